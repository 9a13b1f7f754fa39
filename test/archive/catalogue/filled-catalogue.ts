import { join } from 'node:path';
import { openCatalogue } from '../../../src/archive/catalogue/index.ts';
import type { Catalogue, Part, Party, Person, SentFile, Title } from '../../../src/archive/index.ts';
import { scratchFolder } from '../scratch.ts';

/** Sixty-four digits that begin like this. */
export function hashLike(start: string): string {
  return start.padEnd(64, '0');
}

/** Thirty-two bytes of this value. */
export function rootLike(value: number): Uint8Array {
  return new Uint8Array(32).fill(value);
}

/** A book between two parties, with a dummy. */
export interface Book {
  readonly file: string;
  readonly catalogue: Catalogue;
  readonly publisher: Party;
  readonly printer: Party;
  readonly editor: Person;
  readonly foreman: Person;
  readonly title: Title;
  readonly part: Part;
  readonly dummy: SentFile;
}

/** A catalogue with a book in it; times are small numbers. */
export async function bookInCatalogue(): Promise<Book> {
  const file = join(scratchFolder(), 'catalogue.sqlite');
  const catalogue = await openCatalogue(file, 1);
  const publisher = await catalogue.parties.add({ name: 'Blattwerk', at: 2 });
  const printer = await catalogue.parties.add({ name: 'Druckhaus Süd', at: 2 });
  const rights = ['look', 'send-files', 'sign'] as const;
  const editor = await catalogue.people.add({ partyId: publisher.id, name: 'Ada', rights, byPersonId: null, at: 3 });
  const foreman = await catalogue.people.add({
    partyId: printer.id,
    name: 'Ben',
    rights,
    byPersonId: editor.id,
    at: 3,
  });
  const title = await catalogue.titles.add({
    name: 'Leaves',
    publisherId: publisher.id,
    printerId: printer.id,
    byPersonId: editor.id,
    at: 4,
  });
  const part = await catalogue.titles.addPart({ titleId: title.id, kind: 'book-block', at: 4 });
  const dummy = await sendFile({ catalogue, part, editor }, 'dummy', hashLike('d0'));
  return { file, catalogue, publisher, printer, editor, foreman, title, part, dummy };
}

/** Sends a file of the part. */
export async function sendFile(
  { catalogue, part, editor }: Pick<Book, 'catalogue' | 'part' | 'editor'>,
  kind: SentFile['kind'],
  sha256: string,
  replaces: SentFile['replaces'] = null,
  folding: SentFile['folding'] = null,
): Promise<SentFile> {
  await catalogue.blobs.add({ sha256, bytes: 10, at: 5 });
  const told = { partId: part.id, kind, name: 'book.pdf', remark: '', replaces, folding, sha256, at: 5 };
  return catalogue.files.add({ ...told, senderId: editor.id });
}

/** Adds at least one row to every table that a book alone leaves empty. */
export async function fillUp(book: Book): Promise<void> {
  const { catalogue, printer, editor, foreman, title, part, dummy } = book;
  const studio = await catalogue.parties.add({ name: 'Studio', at: 6 });
  await catalogue.sight.give({ titleId: title.id, partyId: studio.id, byPersonId: editor.id, at: 6 });
  const first = await sendFile(book, 'revision', hashLike('a1'));
  const second = await sendFile(book, 'revision', hashLike('a2'), { fileId: first.id, pages: [{ first: 2, last: 3 }] });
  const pages = [{ pageNumber: 1, contentHash: hashLike('c1'), widthMm: 210, heightMm: 280.5 }];
  await catalogue.pages.add({ sha256: first.sha256, pages, at: 6 });
  const fact = { contentHash: hashLike('c1'), kind: 'facts', terms: hashLike('e1'), bytes: rootLike(7) };
  await catalogue.pages.keepFact(fact);
  const folding = { fold: '16', bound: 'sewn', working: 'sheetwise' } as const;
  const plates = await sendFile(book, 'plates-input', hashLike('a3'), null, folding);
  const given = { partId: part.id, sha256: second.sha256, pages: 1, personId: editor.id, at: 6 };
  await catalogue.givenPlans.add(given);
  const folded = {
    fileId: plates.id,
    dummyId: dummy.id,
    sha256: first.sha256,
    plan: second.sha256,
    sides: first.sha256,
    at: 6,
  };
  await catalogue.foldedBooks.add(folded);
  const again = { fileId: plates.id, partId: part.id, folding, personId: editor.id, atMs: 6 };
  await catalogue.foldings.sayAgain(again);
  const report = await catalogue.reports.add({
    partId: part.id,
    dummyId: dummy.id,
    fileId: second.id,
    terms: hashLike('e2'),
    verdict: 'differs',
    sha256: first.sha256,
    at: 7,
  });
  await catalogue.foldings.confirm({ reportId: report.id, personId: editor.id, atMs: 7 });
  const finding = await catalogue.findings.note({
    partId: part.id,
    reportId: report.id,
    identity: hashLike('f1'),
    kind: 'page-missing',
    dummyPage: 4,
    mark: 'f1',
    weight: 'stop',
    at: 7,
  });
  const region = { x: 10, y: 20, width: 30.5, height: 40 };
  const picture = { widthPx: 300, heightPx: 400, sha256: first.sha256 };
  await catalogue.pictures.addExhibits(report.id, [{ mark: 'f1', side: 'dummy', region, ...picture }]);
  await catalogue.pictures.addPage({ contentHash: hashLike('c1'), renderer: 'a pen', ...picture });
  const [editors, foremans] = [hashLike('ce1'), hashLike('ce2')];
  const introduced = { der: rootLike(1), at: 8 };
  await catalogue.certificates.introduce({
    ...introduced,
    fingerprint: editors,
    partyId: editor.partyId,
    personId: editor.id,
  });
  await catalogue.certificates.introduce({
    ...introduced,
    fingerprint: foremans,
    partyId: printer.id,
    personId: foreman.id,
  });
  const state = async (kind: 'ruling' | 'key-confirmation' | 'revocation', certificate: string, index: number) => {
    const entry = {
      index,
      kind: 'statement',
      titleId: title.id,
      bytes: rootLike(index),
      leafHash: rootLike(index),
      atMs: 9,
    };
    await catalogue.log.append(entry, [{ level: 0, position: index, hash: rootLike(index) }]);
    const id = hashLike(`5${index}`);
    const rulings =
      kind === 'ruling' ? [{ findingId: finding.id, decision: 'agreed', account: 'shared' } as const] : [];
    await catalogue.statements.add(
      {
        id,
        kind,
        titleId: title.id,
        partId: part.id,
        certificate,
        bytesHash: id,
        bytes: rootLike(2),
        signature: rootLike(3),
        logIndex: index,
        atMs: 9,
      },
      [{ kind: 'finding', subject: finding.id }],
      rulings,
    );
    return id;
  };
  const ruling = await state('ruling', editors, 0);
  await catalogue.remarks.add({ logIndex: 0, findingId: finding.id, personId: editor.id, text: 'so?', atMs: 9 });
  await catalogue.statements.takeNumber({ number: '0'.repeat(32), statementId: ruling });
  await catalogue.identity.set({ origin: 'log', verifierKey: 'line', sealCertificate: rootLike(9), at: 9 });
  const confirming = await state('key-confirmation', foremans, 1);
  await catalogue.certificates.confirm({ fingerprint: editors, byPartyId: printer.id, statementId: confirming });
  const revoking = await state('revocation', editors, 2);
  await catalogue.certificates.revoke({ fingerprint: editors, statementId: revoking, fromMs: 9 });
  await catalogue.log.addCheckpoint({ size: 3, rootHash: rootLike(4), note: 'signed', atMs: 9 });
  await catalogue.timeStamps.ask({ size: 3, authority: 'https://stamp.example', at: 9 });
  await catalogue.jobs.add({ kind: 'read', key: 'read/1', order: {}, at: 9 });
  const told = { kind: 'revision', name: 'a.pdf', remark: '', replaces: null, sha256: null } as const;
  await catalogue.uploads.begin({ personId: editor.id, partId: part.id, told, bytes: 7, at: 9 });
  await catalogue.accounts.add({ personId: editor.id, signInName: 'ada', passwordHash: '$argon2id$v=19$x', at: 9 });
  await catalogue.entrances.add({
    tokenHash: hashLike('70'),
    kind: 'token',
    personId: editor.id,
    label: 'file desk',
    madeMs: 9,
    untilMs: null,
  });
}
