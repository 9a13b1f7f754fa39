import { hexOf } from '../ledger/index.ts';
import { sha256 } from '../model/index.ts';

/** SHA-256 of bytes in hexadecimal, as lists and names have it. */
export function hexSha256(bytes: Uint8Array): string {
  return hexOf(sha256(bytes));
}
