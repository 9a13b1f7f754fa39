import { parseBase64 } from '../../ledger/index.ts';
import { Refusal } from '../../model/index.ts';
import { matchesFingerprint, sha256Hex } from '../../sealing/index.ts';
import { wholeList, type ArchiveClient } from './ask-server.ts';

/** A certificate as the archive lists it. */
export interface ListedCertificate {
  readonly id: string;
  readonly fingerprint: string;
  readonly name: string;
  readonly organisation: string;
  readonly revokedFrom: string | null;
  readonly der: string;
}

/**
 * The certificate in a list of the archive whose fingerprint was typed, computed here from its bytes: what the archive
 * says of a certificate's fingerprint is not believed.
 *
 * @param path  of the list
 * @returns the SHA-256 of its bytes
 * @throws {Refusal} not-found: none of the list has that fingerprint
 */
export async function findCertificate(client: ArchiveClient, path: string, typed: string): Promise<string> {
  for (const { der } of await wholeList<ListedCertificate>(client, path)) {
    const bytes = parseBase64(der, '/der');
    if (await matchesFingerprint(typed, bytes)) return sha256Hex(bytes);
  }
  throw new Refusal('not-found', { what: `a certificate with the fingerprint ${typed}` });
}
