import { noteVerifier, type NoteVerifier } from '../ledger/index.ts';
import { formatPem } from '../sealing/index.ts';

/** RFC 8410 4 and 10.1: what stands before the 32 bytes of an Ed25519 key in its SubjectPublicKeyInfo. */
const BEFORE_KEY = Uint8Array.of(0x30, 0x2a, 0x30, 0x05, 0x06, 0x03, 0x2b, 0x65, 0x70, 0x03, 0x21, 0x00);

/** The archive's key as a line of the log and as OpenSSL reads it, by the members that have it. @source RFC 8410 4 */
export function keyTexts(verifierKey: string, { name, publicKey }: NoteVerifier): ReadonlyMap<string, string> {
  const { publicKey: key } = noteVerifier(name, publicKey);
  return new Map([
    ['archive/key.txt', `${verifierKey}\n`],
    ['archive/key.pem', formatPem('PUBLIC KEY', Uint8Array.of(...BEFORE_KEY, ...key))],
  ]);
}

/** The first line of a proof that the newest log begins with an earlier one. */
export const CONSISTENCY_LINE = 'witnessleaf-consistency/1';
