import { describe, expect, it } from 'vitest';
import {
  draftStatement,
  formatAccountsCsv,
  partState,
  releaseGround,
  releaseHindrances,
  rulingStates,
  settledRulings,
  titleAccounts,
  type AccountLine,
  type KeptReport,
  type SentFile,
  type StatementOrder,
} from '../../../src/archive/index.ts';
import { pageList } from '../../../src/archive/files/page-list.ts';
import type { Account, Decision, Statement, StatementOf } from '../../../src/model/index.ts';
import { newStatementId } from '../../../src/sealing/index.ts';
import { hashLike } from '../catalogue/filled-catalogue.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import {
  AT,
  dummyInForce,
  keepReport,
  sendFile,
  sendSigned,
  stateIt,
  twoParties,
  type Signatory,
  type TwoParties,
} from '../two-parties.ts';

interface Compared extends TwoParties {
  readonly dummy: SentFile;
  readonly plates: SentFile;
  readonly report: KeptReport;
}

/** A plates input with two findings that must be looked at, one for the record. */
async function compared(): Promise<Compared> {
  const sides = await twoParties();
  const dummy = await dummyInForce(sides);
  const plates = await sendFile(sides, sides.printer, { kind: 'plates-input', name: 'plates.pdf' });
  const report = await keepReport(sides, { dummy, file: plates }, [
    { mark: 'f1', page: 3 },
    { mark: 'f2', page: 2, weight: 'look' },
    { mark: 'f3', weight: 'note' },
  ]);
  return { ...sides, dummy, plates, report };
}

async function rule(
  { archive, report }: Pick<Compared, 'archive' | 'report'>,
  who: Signatory,
  findings: readonly string[],
  decision: Decision = 'agreed',
  account: Account = 'authors-alteration',
): Promise<string> {
  const order = { kind: 'ruling', reportId: report.id, findings, decision, account } as const;
  return (await stateIt(archive, who, order)).id;
}

const releaseOf = ({ plates }: Compared): StatementOrder => ({ kind: 'release', fileId: plates.id });
const marksOf = async ({ archive, plates }: Compared) =>
  (await releaseHindrances(archive.catalogue, plates.id)).map(({ mark, ruling }) => `${mark} ${ruling.state}`);

describe('a ruling', () => {
  it('settles a finding when both sides say the same, decision and account', async () => {
    const book = await compared();
    const { archive, publisher, printer, part, dummy } = book;
    const states = async () => {
      const found = await rulingStates(archive.catalogue, part.id, dummy.id);
      return [...found.values()].map(({ state }) => state);
    };
    expect(await states()).toEqual([]);
    const first = await rule(book, publisher, ['f1']);
    expect(await states()).toEqual(['one-side']);
    await rule(book, printer, ['f1'], 'agreed', 'shared');
    expect(await states()).toEqual(['conflicting']);
    await rule(book, printer, ['f1'], 'to-be-put-right', 'authors-alteration');
    expect(await states()).toEqual(['conflicting']);
    const last = await rule(book, printer, ['f1']);
    expect(await states()).toEqual(['settled']);
    expect([...(await settledRulings(archive.catalogue, part.id)).values()]).toEqual([
      { decision: 'agreed', account: 'authors-alteration', statements: [first, last] },
    ]);
    // A side may change its mind; then it is open again.
    await rule(book, publisher, ['f1'], 'to-be-put-right', 'printers-error');
    expect(await states()).toEqual(['conflicting']);
    expect(await settledRulings(archive.catalogue, part.id)).toEqual(new Map());
    archive.close();
  });

  it('on many findings at once is one statement', async () => {
    const book = await compared();
    const { archive, publisher, printer, part } = book;
    const one = await rule(book, publisher, ['f1', 'f2', 'f3']);
    const other = await rule(book, printer, ['f3', 'f2', 'f1']);
    const settled = await settledRulings(archive.catalogue, part.id);
    expect([...settled.values()].map(({ statements }) => statements)).toEqual(Array(3).fill([one, other]));
    archive.close();
  });

  it('goes with the finding into every later file, and with the dummy it ends', async () => {
    const book = await compared();
    const { archive, publisher, printer, part, dummy } = book;
    await rule(book, publisher, ['f1', 'f2']);
    await rule(book, printer, ['f1', 'f2']);
    const plates = await sendFile(book, printer, { kind: 'plates-input', name: 'later.pdf' });
    await keepReport(book, { dummy, file: plates }, [{ mark: 'g1', is: 'f2', weight: 'look' }]);
    expect(await releaseHindrances(archive.catalogue, plates.id)).toEqual([]);
    const second = await sendFile(book, printer, { kind: 'dummy', name: 'second.pdf' });
    const order = { kind: 'replacement', fileId: second.id, reason: 'The format has changed.' } as const;
    await stateIt(archive, printer, order);
    await stateIt(archive, publisher, order);
    expect(await settledRulings(archive.catalogue, part.id)).toEqual(new Map());
    expect((await settledRulings(archive.catalogue, part.id, dummy.id)).size).toBe(2);
    await keepReport(book, { dummy: second, file: plates }, [{ mark: 'g1', is: 'f2', weight: 'look' }]);
    const open = await releaseHindrances(archive.catalogue, plates.id);
    expect(open.map(({ mark, ruling }) => [mark, ruling.state])).toEqual([['g1', 'none']]);
    archive.close();
  });

  it('needs a dummy in force, and a report against it', async () => {
    const sides = await twoParties();
    const { archive, publisher, printer } = sides;
    const dummy = await sendFile(sides, printer, { kind: 'dummy', name: 'dummy.pdf' });
    const file = await sendFile(sides, printer, { kind: 'revision', name: 'revision.pdf' });
    const report = await keepReport(sides, { dummy, file }, [{ mark: 'f1' }]);
    expect(await laterRefusalOf(rule({ archive, report }, publisher, ['f1']))).toEqual({
      kind: 'out-of-step',
      what: 'the dummy in force',
      named: dummy.sha256,
      current: 'none',
    });
    archive.close();
  });
});

describe('a release', () => {
  it('is refused with the findings that are open, until both sides have agreed to each', async () => {
    const book = await compared();
    const { archive, publisher, printer, plates } = book;
    const refused = (findings: readonly string[]) => ({ kind: 'unsettled', what: 'release to plates', findings });
    expect(await laterRefusalOf(stateIt(archive, printer, releaseOf(book)))).toEqual(refused(['f1', 'f2']));
    await rule(book, publisher, ['f1', 'f2']);
    expect(await marksOf(book)).toEqual(['f1 one-side', 'f2 one-side']);
    await rule(book, printer, ['f1']);
    expect(await laterRefusalOf(stateIt(archive, printer, releaseOf(book)))).toEqual(refused(['f2']));
    await rule(book, printer, ['f2'], 'agreed', 'shared');
    expect(await marksOf(book)).toEqual(['f2 conflicting']);
    await rule(book, printer, ['f2']);
    expect(await marksOf(book)).toEqual([]);
    await stateIt(archive, printer, releaseOf(book));
    const { releases } = await partState(archive.catalogue, book.part.id);
    expect(releases.map(({ fileId, isInForce }) => [fileId, isInForce])).toEqual([[plates.id, false]]);
    archive.close();
  });

  it('is in force when both have signed, and lists what it rests on', async () => {
    const book = await compared();
    const { archive, publisher, printer, part, plates, report, dummy } = book;
    const agreed = [await rule(book, publisher, ['f1', 'f2']), await rule(book, printer, ['f1'])];
    agreed.push(await rule(book, printer, ['f2']));
    const drafted = await draftStatement(archive, publisher.actor, releaseOf(book), AT);
    expect((drafted as StatementOf<'release'>).subject).toEqual({
      part: { id: part.id, name: 'Book block' },
      dummy: dummy.sha256,
      platesInput: { sha256: plates.sha256, bytes: 10, pages: [hashLike('a1'), hashLike('a2')] },
      report: report.sha256,
      rulings: agreed.toSorted(),
    });
    await sendSigned(archive, publisher, drafted);
    await stateIt(archive, printer, releaseOf(book));
    const { releases } = await partState(archive.catalogue, part.id);
    expect(releases).toHaveLength(1);
    expect(releases[0]).toMatchObject({
      ...{ fileId: plates.id, dummyId: dummy.id, reportId: report.id, rulings: agreed.toSorted() },
      ...{ isInForce: true, isOnDummyInForce: true },
    });
    archive.close();
  });

  it('is hindered by what is to be put right, until the finding is gone from the plates input', async () => {
    const book = await compared();
    const { archive, publisher, printer, dummy } = book;
    for (const who of [publisher, printer]) {
      await rule(book, who, ['f1'], 'to-be-put-right', 'printers-error');
      await rule(book, who, ['f2']);
    }
    expect(await marksOf(book)).toEqual(['f1 settled']);
    expect(await laterRefusalOf(stateIt(archive, printer, releaseOf(book)))).toMatchObject({
      kind: 'unsettled',
      findings: ['f1'],
    });
    const plates = await sendFile(book, printer, { kind: 'plates-input', name: 'mended.pdf' });
    await keepReport(book, { dummy, file: plates }, [{ mark: 'f1', is: 'f2', weight: 'look' }]);
    for (const who of [publisher, printer]) await stateIt(archive, who, { kind: 'release', fileId: plates.id });
    const { releases } = await partState(archive.catalogue, book.part.id);
    expect(releases.map(({ fileId, isInForce }) => [fileId, isInForce])).toEqual([[plates.id, true]]);
    archive.close();
  });

  it('is of a whole plates input that was compared, and of nothing else', async () => {
    const book = await compared();
    const { archive, publisher, printer } = book;
    const order = (fileId: string): StatementOrder => ({ kind: 'release', fileId });
    const revision = await sendFile(book, printer, { kind: 'revision', name: 'revision.pdf' });
    expect(await laterRefusalOf(stateIt(archive, publisher, order(revision.id)))).toEqual({
      kind: 'not-allowed',
      what: 'release to plates',
      missing: 'a file that was sent as plates input',
    });
    const fresh = await sendFile(book, printer, { kind: 'plates-input', name: 'fresh.pdf' });
    expect(await laterRefusalOf(stateIt(archive, publisher, order(fresh.id)))).toMatchObject({
      kind: 'out-of-step',
      current: 'not compared with the dummy in force yet',
    });
    archive.close();
  });

  it('of pages that are laid over an earlier plates input is of the whole book, by the hash of its list of pages', async () => {
    const book = await compared();
    const { archive, dummy, publisher, printer, plates } = book;
    const replaces = { fileId: plates.id, pages: [{ first: 2, last: 2 }] };
    const page = await sendFile(book, printer, { kind: 'plates-input', name: 'page.pdf', pages: ['b9'], replaces });
    await keepReport(book, { dummy, file: page }, []);
    const list = pageList([
      { sha256: plates.sha256, pageNumber: 1 },
      { sha256: page.sha256, pageNumber: 1 },
    ]);
    const order = { kind: 'release', fileId: page.id } as const;
    const drafted = await draftStatement(archive, publisher.actor, order, AT);
    expect(drafted).toMatchObject({
      subject: {
        platesInput: { sha256: list.sha256, bytes: list.bytes.length, pages: [hashLike('a1'), hashLike('b9')] },
      },
    });
    const partly = { ...drafted.subject, platesInput: { sha256: page.sha256, bytes: 8, pages: [hashLike('b9')] } };
    expect(
      await laterRefusalOf(sendSigned(archive, publisher, { ...drafted, subject: partly } as Statement)),
    ).toMatchObject({ kind: 'unproven' });
    await sendSigned(archive, publisher, drafted);
    await stateIt(archive, printer, order);
    const { releases } = await partState(archive.catalogue, book.part.id);
    expect(releases.map(({ fileId, isInForce }) => [fileId, isInForce])).toEqual([[page.id, true]]);
    archive.close();
  });

  it('that was drafted before the other side changed its mind is refused', async () => {
    const book = await compared();
    const { archive, publisher, printer } = book;
    for (const who of [publisher, printer]) await rule(book, who, ['f1', 'f2']);
    const drafted = await draftStatement(archive, publisher.actor, releaseOf(book), AT);
    await rule(book, printer, ['f2'], 'to-be-put-right', 'printers-error');
    expect(await laterRefusalOf(sendSigned(archive, publisher, drafted))).toMatchObject({
      kind: 'unsettled',
      findings: ['f2'],
    });
    // Settled again by other statements: the draft rests on rulings that are the last word no more.
    await rule(book, printer, ['f2']);
    expect(await laterRefusalOf(sendSigned(archive, publisher, drafted))).toMatchObject({
      kind: 'out-of-step',
      what: 'the rulings that the release rests on',
    });
    archive.close();
  });

  it('must rest on the same rulings for both, else it is two releases of which neither is in force', async () => {
    const book = await compared();
    const { archive, publisher, printer, part } = book;
    for (const who of [publisher, printer]) await rule(book, who, ['f1', 'f2']);
    await stateIt(archive, publisher, releaseOf(book));
    await rule(book, printer, ['f1', 'f2']);
    await stateIt(archive, printer, releaseOf(book));
    const isInForce = async () => (await partState(archive.catalogue, part.id)).releases.map((one) => one.isInForce);
    expect(await isInForce()).toEqual([false, false]);
    await stateIt(archive, publisher, releaseOf(book));
    expect(await isInForce()).toEqual([false, true]);
    archive.close();
  });

  it('names the latest report, and no other rulings than it rests on', async () => {
    const book = await compared();
    const { archive, publisher, printer, dummy, plates } = book;
    for (const who of [publisher, printer]) await rule(book, who, ['f1', 'f2']);
    const drafted = (await draftStatement(archive, publisher.actor, releaseOf(book), AT)) as StatementOf<'release'>;
    const subject = { ...drafted.subject, rulings: drafted.subject.rulings.slice(1) };
    const fewer = sendSigned(archive, publisher, { ...drafted, id: newStatementId(), subject });
    expect(await laterRefusalOf(fewer)).toMatchObject({ what: 'the rulings that the release rests on' });
    const told = [{ mark: 'f1' }, { mark: 'f2' }, { mark: 'f4' }];
    const report = await keepReport(book, { dummy, file: plates }, told, hashLike('e1'));
    expect(await laterRefusalOf(sendSigned(archive, publisher, drafted))).toEqual({
      kind: 'out-of-step',
      what: 'the report',
      named: drafted.subject.report,
      current: report.sha256,
    });
    expect((await releaseGround(archive.catalogue, plates)).open.map(({ mark }) => mark)).toEqual(['f4']);
    archive.close();
  });
});

describe('the accounts of a title', () => {
  it('have every settled finding once, by page and by file, with who sent it first', async () => {
    const book = await compared();
    const { archive, publisher, printer, title, dummy, report, plates } = book;
    const [one, other] = [await rule(book, publisher, ['f1']), await rule(book, printer, ['f1'])];
    for (const who of [publisher, printer]) await rule(book, who, ['f2'], 'to-be-put-right', 'printers-error');
    await rule(book, publisher, ['f3'], 'agreed', 'shared');
    const later = await sendFile(book, publisher, { kind: 'revision', name: '=later.pdf' });
    const second = await keepReport(book, { dummy, file: later }, [{ mark: 'h1', is: 'new', page: null }]);
    for (const who of [publisher, printer]) {
      await rule({ archive, report: second }, who, ['h1'], 'agreed', 'authors-alteration');
    }
    const { lines, total, byPage, byFile } = await titleAccounts(archive.catalogue, title);
    expect(lines.map(({ page, says, fileName, sender, account }) => [page, says, fileName, sender, account])).toEqual([
      [2, 'Page 2: finding f2.', 'plates.pdf', 'printer', 'printers-error'],
      [3, 'Page 3: finding f1.', 'plates.pdf', 'printer', 'authors-alteration'],
      [null, 'Page null: finding h1.', '=later.pdf', 'publisher', 'authors-alteration'],
    ]);
    expect(lines[1]!.statements).toEqual([one, other]);
    const none = { 'authors-alteration': 0, 'printers-error': 0, shared: 0, 'not-settled': 0 };
    expect(total).toEqual({ ...none, 'authors-alteration': 2, 'printers-error': 1 });
    expect(byPage.map(({ page, counts }) => [page, counts['authors-alteration']])).toEqual([
      [2, 0],
      [3, 1],
      [null, 1],
    ]);
    expect(
      byFile.map(({ fileId, counts }) => [fileId, counts['authors-alteration'], counts['printers-error']]),
    ).toEqual([
      [plates.id, 1, 1],
      [later.id, 1, 0],
    ]);
    expect(report.id).not.toBe(second.id);
    const rows = formatAccountsCsv(lines).split('\r\n');
    expect(rows).toHaveLength(5);
    expect(rows[0]).toBe(
      "part,page,kind,finding,file,sent by,decision,account,publisher's statement,printer's statement",
    );
    expect(rows[2]).toBe(
      `Book block,3,picture-moved,Page 3: finding f1.,plates.pdf,printer,agreed,author's alteration,${one},${other}`,
    );
    expect(rows[3]).toContain(",'=later.pdf,");
    archive.close();
  });

  it('put what has commas and quotes into quotes', () => {
    const line: AccountLine = {
      ...{ partId: 'p', partName: 'Jacket', findingId: 'f', kind: 'text-changed', page: 1, fileId: 'x' },
      ...{ says: 'Page 1: “a”, not "b".', fileName: 'a.pdf', sender: 'printer', statements: ['s', 't'] },
      decision: 'agreed',
      account: 'shared',
    };
    expect(formatAccountsCsv([line]).split('\r\n')[1]).toBe(
      'Jacket,1,text-changed,"Page 1: “a”, not ""b"".",a.pdf,printer,agreed,shared,s,t',
    );
  });
});
