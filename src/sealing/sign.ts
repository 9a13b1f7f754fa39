import type { Instant } from '../model/index.ts';
import { sha256 } from './digest.ts';
import { ecdsaToDer } from './ecdsa-signature.ts';
import { ECDSA, RSA } from './key-pair.ts';
import { dateOf } from './moment.ts';
import { attributesToSign, formatSeal, sealAttributes } from './seal-form.ts';
import { subtle } from './web-crypto.ts';

/** With what somebody signs: the certificate in DER and its private key. */
export interface SigningKey {
  readonly certificate: Uint8Array;
  readonly privateKey: CryptoKey;
}

/**
 * A detached CMS signature over some content: a seal, in DER. It carries the certificate and is signed with SHA-256.
 *
 * @param at  the moment that the signature names
 * @throws {Refusal} malformed: no moment; unreadable: no certificate
 * @source RFC 5652 5.4 to 5.6, RFC 5035 3; judged by OpenSSL in test/standards/sealing
 */
export async function sealContent(content: Uint8Array, key: SigningKey, at: Instant): Promise<Uint8Array<ArrayBuffer>> {
  return sealWith(key, await sha256(content), dateOf(at));
}

/**
 * A detached CMS signature for a PDF file: over a hash that the caller took, since the file may be large, and without a
 * moment, since in a PDF signature that stands in the signature dictionary and the attribute has to be left out.
 *
 * @param contentHash  SHA-256 of what is signed, 32 bytes
 * @throws {Refusal} unreadable: no certificate
 * @source RFC 5652 5.4 to 5.6, RFC 5035 3; that signing-time is left out: ETSI EN 319 142-1 6.3, from memory
 */
export async function sealPdfHash(contentHash: Uint8Array, key: SigningKey): Promise<Uint8Array<ArrayBuffer>> {
  return sealWith(key, contentHash, null);
}

async function sealWith(
  { certificate, privateKey }: SigningKey,
  contentHash: Uint8Array,
  at: Date | null,
): Promise<Uint8Array<ArrayBuffer>> {
  const attributes = sealAttributes({ certificate, certificateHash: await sha256(certificate), contentHash, at });
  const signed = attributesToSign(attributes);
  if (privateKey.algorithm.name === RSA.name) {
    const signature = new Uint8Array(await subtle.sign(RSA, privateKey, signed));
    return formatSeal({ certificate, attributes, algorithm: 'sha256WithRsa', signature });
  }
  const sideBySide = new Uint8Array(await subtle.sign({ ...ECDSA, hash: 'SHA-256' }, privateKey, signed));
  return formatSeal({ certificate, attributes, algorithm: 'ecdsaWithSha256', signature: ecdsaToDer(sideBySide) });
}
