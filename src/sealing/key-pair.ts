import { subtle } from './web-crypto.ts';

/** The keys that may sign: each is taken by every tool that a court's expert is likely to have. */
export type KeyKind = 'rsa-3072' | 'ecdsa-p256';

/** Both halves of a key. The private one can be written into a key file, and is for that moment only. */
export interface KeyPair {
  readonly publicKey: CryptoKey;
  readonly privateKey: CryptoKey;
}

/**
 * A new pair of keys for signing with SHA-256.
 *
 * @source NIST SP 800-57 Part 1 (2020) table 2: both give 128 bits of strength
 */
export async function makeKeyPair(kind: KeyKind): Promise<KeyPair> {
  return kind === 'rsa-3072'
    ? subtle.generateKey({ ...RSA, modulusLength: 3072, publicExponent: Uint8Array.of(1, 0, 1) }, true, USES)
    : subtle.generateKey(ECDSA, true, USES);
}

/** How a private key of this algorithm is read again. */
export const RSA = { name: 'RSASSA-PKCS1-v1_5', hash: 'SHA-256' } as const;

/** The other algorithm. */
export const ECDSA = { name: 'ECDSA', namedCurve: 'P-256' } as const;

const USES: readonly KeyUsage[] & KeyUsage[] = ['sign', 'verify'];
