import { joinBytes, sha256Rounds } from '../model/index.ts';
import { ownBytes } from './octets.ts';
import { passphraseUtf16 } from './passphrase.ts';
import { subtle } from './web-crypto.ts';

/**
 * The check value over a key file's content, by which a wrong passphrase and a changed byte are noticed.
 *
 * @returns HMAC-SHA-256, 32 bytes
 * @source RFC 7292 4 and B.2 with ID 3 (B.3), u = 32, v = 64
 */
export async function keyFileCheck(
  content: Uint8Array,
  passphrase: string,
  { salt, rounds }: { readonly salt: Uint8Array; readonly rounds: number },
): Promise<Uint8Array<ArrayBuffer>> {
  const diversifier = new Uint8Array(64).fill(3);
  const first = joinBytes([diversifier, repeated(salt), repeated(passphraseUtf16(passphrase))]);
  const secret = sha256Rounds(first, rounds);
  const key = await subtle.importKey('raw', secret, { name: 'HMAC', hash: 'SHA-256' }, false, ['sign']);
  return new Uint8Array(await subtle.sign('HMAC', key, ownBytes(content)));
}

/** Again and again, up to the next multiple of 64 bytes. @source RFC 7292 B.2 steps 2 and 3 */
function repeated(bytes: Uint8Array): Uint8Array {
  const length = Math.ceil(bytes.length / 64) * 64;
  return Uint8Array.from({ length }, (_, at) => bytes[at % bytes.length]!);
}
