import { makeCertificate, makeKeyPair, sha256Hex, type KeyKind, type PersonName } from '../../src/sealing/index.ts';
import type { SigningKey } from '../../src/sealing/index.ts';
import { Refusal, type Party, type StatementKind, type StatementOf } from '../../src/model/index.ts';
import { fingerprintOf } from '../../src/sealing/index.ts';

export const NOON = '2026-11-25T12:00:00Z';
export const FROM = '2026-01-01T00:00:00Z';
export const UNTIL = '2036-01-01T00:00:00Z';

export const ANAIS: PersonName = { commonName: 'Anaïs Ödegård-Žižka', organisation: 'Éditions du Phare 北京' };
export const TOMAS: PersonName = { commonName: 'Tomás Ó Súilleabháin', organisation: 'Offizin Grün & Söhne' };

/** A person with a fresh key; the private half can be taken out, as `makeKeyFile` needs it. */
export async function somebody(kind: KeyKind, person = ANAIS): Promise<SigningKey> {
  const keys = await makeKeyPair(kind);
  const certificate = await makeCertificate({ person, keys, from: FROM, until: UNTIL });
  return { certificate, privateKey: keys.privateKey };
}

/** A 64-digit hash that is easy to see in a failing test. */
export const hashOf = (digit: string) => digit.repeat(64);

const PART = { id: 'book-block', name: 'Book block' };
const FILE = { sha256: hashOf('a'), bytes: 2_200_000, pages: [hashOf('1'), hashOf('2')] };

/** One statement of each kind by this key, all with the same outer members. */
export async function statementsBy(
  key: SigningKey,
  person = ANAIS,
  party: Party = 'publisher',
): Promise<{ readonly [K in StatementKind]: StatementOf<K> }> {
  const sha256 = await sha256Hex(key.certificate);
  const fingerprint = await fingerprintOf(key.certificate);
  const outer = {
    type: 'witnessleaf-statement/1',
    id: '00112233445566778899aabbccddeeff',
    title: { id: 'winters-round', name: 'A Winter’s Round' },
    signer: { party, name: person.commonName, organisation: person.organisation, certificate: sha256 },
    at: NOON,
    head: { origin: 'archive.example/log', size: 12, root: hashOf('f') },
  } as const;
  const named = { sha256, fingerprint };
  const ruling = { part: PART, dummy: hashOf('a'), revision: hashOf('b'), report: hashOf('c') };
  const findings = [{ id: 'f-1', says: 'Page 12: the picture at the left is cut by 2.1 mm at its foot.' }];
  return {
    'key-confirmation': {
      ...outer,
      kind: 'key-confirmation',
      subject: { ...named, party: 'printer', name: TOMAS.commonName, organisation: TOMAS.organisation },
    },
    'sign-off': { ...outer, kind: 'sign-off', subject: { part: PART, dummy: FILE } },
    ruling: {
      ...outer,
      kind: 'ruling',
      subject: { ...ruling, findings, decision: 'to-be-put-right', account: 'printers-error' },
    },
    release: {
      ...outer,
      kind: 'release',
      subject: { part: PART, dummy: hashOf('a'), platesInput: FILE, report: hashOf('c'), rulings: [hashOf('d')] },
    },
    revocation: {
      ...outer,
      kind: 'revocation',
      subject: { ...named, from: '2026-12-01T00:00:00Z', reason: 'The computer was stolen.' },
    },
    withdrawal: {
      ...outer,
      kind: 'withdrawal',
      subject: { part: PART, dummy: hashOf('a'), reason: 'Two pages are missing.' },
    },
    replacement: {
      ...outer,
      kind: 'replacement',
      subject: { part: PART, inForce: hashOf('e'), dummy: FILE, reason: 'The format has changed.' },
    },
  };
}

export const KINDS: readonly StatementKind[] = [
  'key-confirmation',
  'sign-off',
  'ruling',
  'release',
  'revocation',
  'withdrawal',
  'replacement',
];

/** What a promise was refused with, as one value. Whatever else it fails with is a bug and passes through. */
export async function refusalOfPromise(promise: Promise<unknown>): Promise<unknown> {
  try {
    await promise;
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const { kind, details } = error as Refusal;
    return { kind, ...details };
  }
  return 'nothing was refused';
}

/** The same with one byte changed. */
export function withByte(bytes: Uint8Array, at: number, change = 1): Uint8Array {
  const changed = new Uint8Array(bytes);
  changed[at]! ^= change;
  return changed;
}
