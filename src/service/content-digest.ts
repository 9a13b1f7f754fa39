import { Refusal } from '../model/index.ts';

/**
 * The SHA-256 that a sender announces, in hexadecimal; other algorithms beside it are passed over.
 *
 * @param header  as `sha-256=:…:`
 * @throws {Refusal} malformed: no SHA-256 in it
 * @source RFC 9530 2; RFC 8941 3.2 and 3.3.5
 */
export function parseContentDigest(header: string | undefined): string {
  const found = /(?:^|,)\s*sha-256=:([A-Za-z0-9+/]{43}=):\s*(?=[,;]|$)/.exec(header ?? '')?.[1];
  if (found !== undefined) return Buffer.from(found, 'base64').toString('hex');
  throw new Refusal('malformed', {
    pointer: '/header/Content-Digest',
    expected: 'sha-256=:…: with the SHA-256 of the body in base64',
    found: header === undefined ? 'nothing' : header.slice(0, 80),
  });
}

/** The same for an answer. */
export function formatContentDigest(sha256: string): string {
  return `sha-256=:${Buffer.from(sha256, 'hex').toString('base64')}:`;
}
