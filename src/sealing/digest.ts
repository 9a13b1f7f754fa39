import type { Sha256 } from '../model/index.ts';
import { formatHex, ownBytes } from './octets.ts';
import { subtle } from './web-crypto.ts';

/** The SHA-256 of some bytes: 32 bytes. @source FIPS 180-4, 6.2 (the runtime's own; test/standards/fips180) */
export async function sha256(bytes: Uint8Array): Promise<Uint8Array<ArrayBuffer>> {
  return new Uint8Array(await subtle.digest('SHA-256', ownBytes(bytes)));
}

/** The same in 64 hexadecimal digits, as statements name files and certificates. @source as sha256 */
export async function sha256Hex(bytes: Uint8Array): Promise<Sha256> {
  return formatHex(await sha256(bytes));
}
