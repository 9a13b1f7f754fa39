import { CryptoEngine } from 'pkijs';

/* eslint-disable no-restricted-globals -- the one place where this room meets the runtime: the same WebCrypto in Node and in browsers */
const runtime: Crypto = globalThis.crypto;
/* eslint-enable no-restricted-globals */

/** The runtime's own implementations of hashes, ciphers and signatures. @source W3C Web Cryptography API, 2017 */
export const subtle: SubtleCrypto = runtime.subtle;

/** The same as the certificate library wants it. */
export const engine = new CryptoEngine({ name: 'runtime', crypto: runtime });

/** Fresh random bytes, fit for keys, salts and nonces. */
export function randomBytes(count: number): Uint8Array<ArrayBuffer> {
  return runtime.getRandomValues(new Uint8Array(count));
}
