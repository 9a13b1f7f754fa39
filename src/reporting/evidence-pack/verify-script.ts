import { readFileSync } from 'node:fs';

const SCRIPT = new URL('./verify.sh', import.meta.url);

/** `verify.sh` as it goes into every pack. */
export function verifyScript(): Uint8Array {
  return readFileSync(SCRIPT);
}
