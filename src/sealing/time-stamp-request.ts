import { Refusal } from '../model/index.ts';
import { der, derNumber, derOid, derSequence, derUnsigned, TAG } from './der.ts';
import { OID } from './seal-form.ts';
import { randomBytes } from './web-crypto.ts';

/** A question to a time-stamp authority, and the number by which its answer is known to be to this question. */
export interface TimeStampRequest {
  /** To be sent as `application/timestamp-query`. */
  readonly request: Uint8Array<ArrayBuffer>;
  /** To be kept until the answer is verified: 8 bytes, the highest first. */
  readonly nonce: Uint8Array<ArrayBuffer>;
}

/**
 * Asks for a time-stamp over a hash, with the authority's certificate in the answer.
 *
 * @param hash  SHA-256 of what is to be stamped: 32 bytes
 * @throws {Refusal} malformed: not 32 bytes
 * @source RFC 3161 2.4.1
 */
export function makeTimeStampRequest(hash: Uint8Array): TimeStampRequest {
  if (hash.length !== 32) {
    throw new Refusal('malformed', { pointer: '/hash', expected: '32 bytes', found: `${hash.length} bytes` });
  }
  const nonce = randomBytes(8);
  const algorithm = derSequence(derOid(OID.sha256), der(TAG.null));
  const imprint = derSequence(algorithm, der(TAG.octetString, hash));
  const certificateWanted = der(TAG.boolean, Uint8Array.of(0xff));
  return { nonce, request: derSequence(derNumber(1), imprint, derUnsigned(nonce), certificateWanted) };
}
