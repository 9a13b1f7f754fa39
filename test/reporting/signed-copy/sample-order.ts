import { createHash } from 'node:crypto';
import { PDFDocument } from '@cantoo/pdf-lib';
import type { SignedCopyOrder } from '../../../src/reporting/index.ts';
import { makeCertificate, makeKeyPair, sha256Hex } from '../../../src/sealing/index.ts';
import type { SigningKey } from '../../../src/sealing/index.ts';
import { ANAIS, FROM, hashOf, somebody, TOMAS, UNTIL } from '../../sealing/people.ts';

export const TITLE = 'A Winter’s Round';

/** SHA-256 in hexadecimal digits. */
export const hexOf = (bytes: Uint8Array | string): string => createHash('sha256').update(bytes).digest('hex');

/** The key of an archive, as it seals its copies. */
export async function archiveKey(kind: 'rsa-3072' | 'ecdsa-p256' = 'ecdsa-p256'): Promise<SigningKey> {
  return somebody(kind, { commonName: 'The archive', organisation: 'Offizin Grün & Söhne' });
}

/** A firm's own authority, and a key of an archive that it vouches for. */
export async function authorityOver(organisation: string): Promise<{
  readonly certificate: Uint8Array;
  readonly archiveKey: () => Promise<SigningKey>;
}> {
  const keys = await makeKeyPair('ecdsa-p256');
  const person = { commonName: 'The house’s authority', organisation };
  const certificate = await makeCertificate({ person, keys, from: FROM, until: UNTIL, authority: true });
  return {
    certificate,
    archiveKey: async () => {
      const own = await makeKeyPair('ecdsa-p256');
      const issuer = { certificate, privateKey: keys.privateKey };
      const archive = { commonName: 'The archive', organisation };
      const issued = await makeCertificate({ person: archive, keys: own, from: FROM, until: UNTIL, issuer });
      return { certificate: issued, privateKey: own.privateKey };
    },
  };
}

/** An order for a signed copy of these bytes; its pages have made-up content hashes, each another. */
export async function orderFor(pdf: Uint8Array, key: SigningKey): Promise<SignedCopyOrder> {
  const count = (await PDFDocument.load(pdf)).getPageCount();
  const pages = Array.from({ length: count }, (_, index) => hexOf(`page ${index + 1}`));
  const anais = {
    name: ANAIS.commonName,
    organisation: ANAIS.organisation,
    certificate: await sha256Hex(key.certificate),
  };
  const tomas = { name: TOMAS.commonName, organisation: TOMAS.organisation, certificate: hashOf('b') };
  return {
    pdf,
    fileName: 'dummy.pdf',
    file: { sha256: hexOf(pdf), bytes: pdf.length, pages },
    title: TITLE,
    part: 'Book block',
    at: '2026-11-26T09:30:00Z',
    inForceSince: '2026-11-25T08:02:00Z',
    signatories: [
      { party: 'publisher', ...anais, at: '2026-11-24T16:12:00Z', statement: hashOf('1').slice(32), logIndex: 41 },
      { party: 'printer', ...tomas, at: '2026-11-25T08:02:00Z', statement: hashOf('2').slice(32), logIndex: 43 },
    ],
    head: { origin: 'archive.example/leaf', size: 57, root: hashOf('f') },
    key,
  };
}
