import { join } from 'node:path';
import { expect, test } from 'vitest';
import { imposeSheets } from '../../../demo/sheets/impose.ts';
import { checkingState, fileFindings, readReport, releaseGround, sheetsOfFile } from '../../../src/archive/index.ts';
import { confirmFolding, sayFoldingAgain } from '../../../src/archive/index.ts';
import { givePlan } from '../../../src/archive/sheets/give-plan.ts';
import type { SaidFolding } from '../../../src/model/index.ts';
import { formatPlan, parseFolds } from '../../../src/plates/index.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { smallPlan, writeSheetBook } from '../sheets/sheet-book.ts';
import { AT, stateIt, twoParties } from '../two-parties.ts';
import { openFileDesk } from './file-desk.ts';

const PAGES = 8;
const title = await twoParties();
const desk = await openFileDesk({ drawReport: () => Promise.resolve(0) }, title);
const { archive, folder, part } = desk;
const { catalogue, blobs } = archive;
const { tolerances } = desk.order;
const [editor, foreman] = [desk.editor, desk.foreman].map(({ id, partyId }) => ({ personId: id, partyId }));

const CROSSED: SaidFolding = { fold: 'T>B, L>R', bound: 'sewn', working: 'sheetwise' };
const NESTED: SaidFolding = { fold: '8', bound: 'saddle-stitched', working: 'sheetwise' };
const plan = smallPlan(PAGES, { sections: [{ pages: PAGES, folds: parseFolds('B>T, L>R') }] });
const bookPath = await writeSheetBook(join(folder, 'book.pdf'), PAGES);
const sheetsPath = join(folder, 'sheets.pdf');
await imposeSheets({ bookPath, plan, outPath: sheetsPath });
const dummy = await desk.sendFile(bookPath, { kind: 'dummy' });
const file = await desk.sendFile(sheetsPath, { kind: 'plates-input', folding: CROSSED, by: desk.foreman });
const bySheets = await desk.sendFile(sheetsPath, { kind: 'plates-input', by: desk.foreman });
await desk.workOff();
for (const side of [title.publisher, title.printer]) {
  await stateIt(archive, side, { kind: 'sign-off', fileId: dummy.id }, desk.order.now());
}

const say = (actor: typeof foreman, folding: SaidFolding, fileId = file.id) =>
  sayFoldingAgain(archive, actor!, { fileId, folding, tolerances }, AT);
const kindsNow = async () => (await fileFindings(archive, file.id))!.findings.map(({ finding }) => finding.kind);
const lastEntry = async () =>
  JSON.parse(Buffer.from((await catalogue.log.entries({ from: 0, most: 1000 })).at(-1)!.bytes).toString()) as Readonly<
    Record<string, unknown>
  >;

test('how sheets fold is said again by the printer: they are checked by it, and what was signed stays on its report', async () => {
  const before = (await fileFindings(archive, file.id))!;
  expect(await kindsNow()).toContain('pages-exchanged');
  const findings = before.findings.map(({ id }) => id);
  const ruling = { reportId: before.report.id, findings, decision: 'agreed', account: 'printers-error' } as const;
  for (const side of [title.publisher, title.printer]) {
    await stateIt(archive, side, { kind: 'ruling', ...ruling }, desk.order.now());
  }
  expect((await releaseGround(catalogue, file)).open).toEqual([]);

  const wasFolded = (await sheetsOfFile(archive, file))!.folded;
  const { sha256 } = await givePlan(archive, foreman!, { partId: part.id, text: formatPlan(plan) }, AT);
  const said = await say(foreman, { plan: sha256 });
  expect([said.file.folding, said.file.foldingNumber]).toEqual([{ plan: sha256 }, 1]);
  expect(await catalogue.files.get(file.id)).toEqual(said.file);
  expect(await lastEntry()).toMatchObject({
    kind: 'folding-said-again',
    by: { party: 'printer', person: foreman!.personId },
    remark: 'book.pdf: folded by a plan that was given; before: T>B, L>R, sewn, sheetwise',
    subjects: [
      { what: 'file', id: file.id, sha256: file.sha256 },
      { what: 'given-plan', id: file.id, sha256 },
      { what: 'folding-plan-before', id: file.id, sha256: wasFolded.plan },
    ],
  });
  // until it was checked so, nothing can be released on what was checked before
  expect((await checkingState(catalogue, said.file, tolerances)).comparing?.state).toBe('waiting');
  expect(await laterRefusalOf(releaseGround(catalogue, said.file))).toMatchObject({
    kind: 'out-of-step',
    current: 'not compared by the folding that was said last yet',
  });

  await desk.workOff();
  const after = (await fileFindings(archive, file.id))!;
  expect([after.report.folding, after.report.verdict, after.findings]).toEqual([1, 'match', []]);
  expect((await readReport(blobs, after.report.sha256)).sheets).toMatchObject({ plan: 'given', located: 'plan' });
  expect((await sheetsOfFile(archive, file))!.folded.sha256).not.toBe(wasFolded.sha256);
  const signed = await catalogue.statements.about({ kind: 'report', subject: before.report.id });
  expect(signed.map(({ kind }) => kind)).toEqual(['ruling', 'ruling']);
  expect(await catalogue.statements.about({ kind: 'report', subject: after.report.id })).toEqual([]);
  expect(await catalogue.reports.get(before.report.id)).toEqual(before.report);
});

test('said as before, it is checked anew, and what was agreed of the same differences stands', async () => {
  expect((await say(foreman, CROSSED)).file.foldingNumber).toBe(2);
  await desk.workOff();
  const { report, findings } = (await fileFindings(archive, file.id))!;
  expect([report.folding, report.verdict]).toEqual([2, 'differs']);
  expect(findings.map(({ finding, isOpen }) => [finding.kind.startsWith('page'), isOpen])).toEqual(
    findings.map(() => [true, false]),
  );
  expect(findings.length).toBeGreaterThan(0);
  // as it is said already: nothing is done
  expect((await say(foreman, CROSSED)).file.foldingNumber).toBe(2);
  expect((await catalogue.foldings.saidAgain(file.id)).map(({ folding }) => 'plan' in folding)).toEqual([true, false]);
});

test('it is the printer’s word, and of whole sheets alone', async () => {
  const refused = { kind: 'not-allowed', missing: 'the role of printer' };
  expect(await laterRefusalOf(say(editor, NESTED))).toMatchObject(refused);
  expect(await laterRefusalOf(say(foreman, { plan: '0'.repeat(64) }))).toMatchObject({ kind: 'not-found' });
  expect(await laterRefusalOf(say(foreman, { ...NESTED, fold: 'R>L, T>B' }))).toMatchObject({ kind: 'malformed' });
  expect(await laterRefusalOf(say(foreman, NESTED, dummy.id))).toMatchObject({
    kind: 'malformed',
    expected: 'a whole plates input',
  });
});

test('a plan that was found is confirmed by the printer, as it was looked at, once', async () => {
  const { folded, report, plan: from } = (await sheetsOfFile(archive, bySheets))!;
  expect(from).toBe('found');
  const confirm = (actor: typeof foreman, sha256: string, fileId = bySheets.id) =>
    confirmFolding(archive, actor!, { fileId, plan: sha256 }, AT);
  expect(await laterRefusalOf(confirm(editor, folded.plan))).toMatchObject({ kind: 'not-allowed' });
  expect(await laterRefusalOf(confirm(foreman, '0'.repeat(64)))).toMatchObject({
    kind: 'out-of-step',
    current: folded.plan,
  });
  expect(await laterRefusalOf(confirm(foreman, folded.plan, file.id))).toMatchObject({ current: 'said' });
  expect(await catalogue.foldings.confirmedIn(report.id)).toBeNull();
  const confirmed = { reportId: report.id, personId: foreman!.personId, atMs: AT };
  expect(await confirm(foreman, folded.plan)).toEqual(confirmed);
  const entry = await lastEntry();
  expect(entry).toMatchObject({ kind: 'folding-confirmed', by: { party: 'printer', person: foreman!.personId } });
  expect(entry.subjects).toContainEqual({ what: 'folding-plan', id: bySheets.id, sha256: folded.plan });
  expect(await confirm(foreman, folded.plan)).toEqual(confirmed);
  expect(await lastEntry()).toEqual(entry);
  expect(await catalogue.foldings.confirmedIn(report.id)).toEqual(confirmed);
});
