import {
  admitStatement,
  bringInParty,
  draftStatement,
  introduceCertificate,
  openArchive,
  openPart,
  openTitle,
  type Actor,
  type Archive,
  type FileKind,
  type KeptReport,
  type KeptStatement,
  type Part,
  type SentFile,
  type StatementOrder,
  type Title,
} from '../../src/archive/index.ts';
import type { Statement, Weight } from '../../src/model/index.ts';
import { makeCertificate, makeKeyPair, sha256Hex, signStatement, type SigningKey } from '../../src/sealing/index.ts';
import { FROM, NOON, UNTIL } from '../sealing/people.ts';
import { hashLike } from './catalogue/filled-catalogue.ts';
import { pieces, sha256Of } from './blobs/streams.ts';
import { scratchFolder } from './scratch.ts';

export const AT = Date.parse(NOON);

/** Somebody who signs, with their key. */
export interface Signatory {
  readonly actor: Actor;
  readonly name: string;
  readonly organisation: string;
  readonly key: SigningKey;
  /** SHA-256 of the certificate. */
  readonly certificate: string;
}

/** A title between a publisher and a printer, each with somebody who signs. */
export interface TwoParties {
  readonly folder: string;
  readonly archive: Archive;
  readonly publisher: Signatory;
  readonly printer: Signatory;
  readonly title: Title;
  readonly part: Part;
}

/** An archive in a new folder with a title in it; the two keys are introduced and, unless told otherwise, confirmed. */
export async function twoParties(options: { readonly areConfirmed?: boolean } = {}): Promise<TwoParties> {
  const folder = scratchFolder();
  const archive = await openArchive(folder, AT, { origin: 'archive.example/log' });
  const first = await bringInParty(
    archive,
    null,
    { party: 'Offizin Grün & Söhne', person: 'Tomás Ó Súilleabháin' },
    AT,
  );
  const foreman = { personId: first.person.id, partyId: first.party.id };
  const second = await bringInParty(archive, foreman, { party: 'Éditions du Phare 北京', person: 'Anaïs Ödegård' }, AT);
  const editor = { personId: second.person.id, partyId: second.party.id };
  const printer = await signatory(archive, foreman);
  const publisher = await signatory(archive, editor);
  const sides = { publisherId: editor.partyId, printerId: foreman.partyId };
  const title = await openTitle(archive, foreman, { name: 'A Winter’s Round', ...sides }, AT);
  const part = await openPart(archive, editor, { titleId: title.id, kind: 'book-block' }, AT);
  const all = { folder, archive, publisher, printer, title, part };
  if (options.areConfirmed !== false) {
    await confirm(all, publisher, printer);
    await confirm(all, printer, publisher);
  }
  return all;
}

/** Gives somebody a new key and introduces its certificate. */
export async function signatory(archive: Archive, actor: Actor): Promise<Signatory> {
  const name = (await archive.catalogue.people.get(actor.personId))!.name;
  const organisation = (await archive.catalogue.parties.get(actor.partyId))!.name;
  const key = await keyFor(name, organisation);
  await introduceCertificate(archive, actor, key.certificate, AT);
  return { actor, name, organisation, key, certificate: await sha256Hex(key.certificate) };
}

export async function keyFor(commonName: string, organisation: string): Promise<SigningKey> {
  const keys = await makeKeyPair('ecdsa-p256');
  const person = { commonName, organisation };
  return {
    certificate: await makeCertificate({ person, keys, from: FROM, until: UNTIL }),
    privateKey: keys.privateKey,
  };
}

/** One side takes the other's key as that person's. */
export async function confirm(
  { archive, title }: TwoParties,
  who: Signatory,
  whose: Signatory,
): Promise<KeptStatement> {
  const order = { kind: 'key-confirmation', titleId: title.id, certificate: whose.certificate } as const;
  return stateIt(archive, who, order);
}

/** Drafts a statement, signs it and sends it, all at once. */
export async function stateIt(
  archive: Archive,
  who: Signatory,
  order: StatementOrder,
  at = AT,
): Promise<KeptStatement> {
  const statement = await draftStatement(archive, who.actor, { ...order, signWith: who.certificate }, at);
  return admitStatement(archive, who.actor, await signStatement(statement, who.key), at);
}

/** Signs a statement as it is, whatever it says, and sends it. */
export async function sendSigned(
  archive: Archive,
  who: Signatory,
  statement: Statement,
  at = AT,
): Promise<KeptStatement> {
  return admitStatement(archive, who.actor, await signStatement(statement, who.key), at);
}

/** Sends a file whose pages have these contents; what it holds is its name. */
export async function sendFile(
  { archive, part }: Pick<TwoParties, 'archive' | 'part'>,
  who: Signatory,
  file: {
    readonly kind: FileKind;
    readonly name: string;
    readonly pages?: readonly string[];
    readonly replaces?: SentFile['replaces'];
    readonly isRead?: boolean;
  },
): Promise<SentFile> {
  const { kind, name, pages = ['a1', 'a2'], replaces = null, isRead = true } = file;
  const { catalogue, blobs } = archive;
  const { sha256, bytes } = await blobs.put(pieces(name));
  await catalogue.blobs.add({ sha256, bytes, at: AT });
  if (isRead) {
    const read = pages.map((start, index) => {
      const page = { pageNumber: index + 1, widthMm: 210, heightMm: 280 };
      return start === ''
        ? { pageNumber: index + 1, unreadable: 'cut short' }
        : { ...page, contentHash: hashLike(start) };
    });
    await catalogue.pages.add({ sha256, pages: read, at: AT });
  }
  const senderId = who.actor.personId;
  return catalogue.files.add({ partId: part.id, kind, name, remark: '', replaces, senderId, sha256, at: AT });
}

/** A finding as a report of these tests has it; `is` makes it the same one in another file. */
export interface Told {
  readonly mark: string;
  readonly is?: string;
  readonly weight?: Weight;
  readonly page?: number | null;
}

/** What a finding of these tests says. */
export function saysOf({ mark, page = 1 }: Told): string {
  return `Page ${page}: finding ${mark}.`;
}

/** Keeps a report on a file against a dummy. */
export async function keepReport(
  { archive, part }: Pick<TwoParties, 'archive' | 'part'>,
  { dummy, file }: { readonly dummy: SentFile; readonly file: SentFile },
  told: readonly Told[],
  terms = hashLike('e0'),
): Promise<KeptReport> {
  const { blobs, catalogue } = archive;
  const findings = told.map((one) => ({ id: one.mark, says: saysOf(one), weight: one.weight ?? 'stop' }));
  const { sha256, bytes } = await blobs.put(
    pieces(JSON.stringify({ file: file.id, dummy: dummy.id, terms, findings })),
  );
  await catalogue.blobs.add({ sha256, bytes, at: AT });
  const verdict = findings.some(({ weight }) => weight !== 'note') ? 'differs' : 'match';
  const [partId, dummyId, fileId] = [part.id, dummy.id, file.id];
  const report = await catalogue.reports.add({ partId, dummyId, fileId, terms, verdict, sha256, at: AT });
  for (const { mark, is = mark, weight = 'stop', page = 1 } of told) {
    await catalogue.findings.note({
      ...{ partId, reportId: report.id, identity: sha256Of(is), kind: 'picture-moved', dummyPage: page },
      ...{ mark, weight, at: AT },
    });
  }
  return report;
}

/** A dummy that both sides have signed. */
export async function dummyInForce(sides: TwoParties, name = 'dummy.pdf'): Promise<SentFile> {
  const dummy = await sendFile(sides, sides.printer, { kind: 'dummy', name });
  await stateIt(sides.archive, sides.publisher, { kind: 'sign-off', fileId: dummy.id });
  await stateIt(sides.archive, sides.printer, { kind: 'sign-off', fileId: dummy.id });
  return dummy;
}

/** The kinds of entries in the log, in order. */
export async function entryKinds({ catalogue }: Archive): Promise<readonly string[]> {
  return (await catalogue.log.entries({ from: 0, most: 1000 })).map(({ kind }) => kind);
}
