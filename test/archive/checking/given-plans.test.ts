import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { imposeSheets } from '../../../demo/sheets/impose.ts';
import { checkingState, openUploads, readReport, receiveFile } from '../../../src/archive/index.ts';
import type { SentFile, ToldOfUpload } from '../../../src/archive/index.ts';
import type { SaidFolding } from '../../../src/model/index.ts';
import { givePlan } from '../../../src/archive/sheets/give-plan.ts';
import { formatPlan, parseFolds, parsePlan } from '../../../src/plates/index.ts';
import type { Plan } from '../../../src/plates/index.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { smallPlan, writeSheetBook } from '../sheets/sheet-book.ts';
import { AT } from '../two-parties.ts';
import { openFileDesk } from './file-desk.ts';

const PAGES = 16;
const SIXTEEN: SaidFolding = { fold: '16', bound: 'sewn', working: 'sheetwise' };
const desk = await openFileDesk();
const { archive, part, folder } = desk;
const { catalogue, blobs } = archive;
const ben = { personId: desk.foreman.id, partyId: desk.foreman.partyId };
const bookPath = await writeSheetBook(join(folder, 'book.pdf'), PAGES);
await desk.sendFile(bookPath, { kind: 'dummy' });
await desk.workOff();

let made = 0;
async function sheetsBy(plan: Plan): Promise<string> {
  const outPath = join(folder, `sheets-${(made += 1)}.pdf`);
  await imposeSheets({ bookPath, plan, outPath });
  return outPath;
}

const give = (plan: Plan) => givePlan(archive, ben, { partId: part.id, text: formatPlan(plan) }, AT);
const reportOn = async ({ id }: SentFile) => readReport(blobs, (await catalogue.reports.onFile(id))[0]!.sha256);
const entries = async () =>
  (await catalogue.log.entries({ from: 0, most: 100 })).map(
    ({ bytes }) => JSON.parse(Buffer.from(bytes).toString()) as { remark: string; subjects: readonly unknown[] },
  );

describe('sheets whose folding is said', () => {
  test('are folded by a plan that was given, and the log names it', async () => {
    const plan = smallPlan(PAGES);
    const { sha256 } = await give(plan);
    const file = await desk.sendFile(await sheetsBy(plan), { kind: 'plates-input', folding: { plan: sha256 } });
    await desk.workOff();
    const report = await reportOn(file);
    expect([report.verdict, report.sheets?.plan, report.sheets?.located]).toEqual(['match', 'given', 'plan']);
    const [upload, compared] = (await entries()).slice(-2);
    expect(upload?.remark).toBe('plates input: book.pdf, folded by a plan that was given');
    expect(upload?.subjects).toContainEqual({ what: 'given-plan', id: file.id, sha256 });
    expect(compared?.remark).toBe('match; folded by the plan that was given');
    expect((await catalogue.files.get(file.id))?.folding).toEqual({ plan: sha256 });
  });

  test('are folded by rules, which stand above what the sheets themselves tell', async () => {
    const path = await sheetsBy(smallPlan(PAGES, { sections: [{ pages: PAGES, folds: parseFolds('T>B, R>L, L>R') }] }));
    const bySheets = await desk.sendFile(path, { kind: 'plates-input' });
    const byRule = await desk.sendFile(path, { kind: 'plates-input', folding: SIXTEEN });
    await desk.workOff();
    expect((await reportOn(bySheets)).verdict).toBe('match');
    const { sheets, findings } = await reportOn(byRule);
    expect(sheets?.plan).toBe('made');
    expect(findings.map(({ kind }) => kind)).toContain('pages-exchanged');
    expect((await entries()).map(({ remark }) => remark)).toContain(
      'plates input: book.pdf, folded 16, sewn, sheetwise',
    );
  });

  test('that do not lie as was said are told why, and nothing is lost', async () => {
    const path = await sheetsBy(smallPlan(PAGES));
    const folding: SaidFolding = { fold: '8', bound: 'sewn', working: 'sheetwise' };
    const file = await desk.sendFile(path, { kind: 'plates-input', folding });
    await desk.workOff();
    const { comparing } = await checkingState(catalogue, file, desk.order.tolerances);
    expect([comparing?.state, comparing?.cause]).toEqual([
      'failed',
      'sheets: 4 pages, one for each side of 2 sheets expected, 2 found',
    ]);
    expect(await blobs.sizeOf(file.sha256)).toBeGreaterThan(0);
  });
});

describe('what is refused before a byte is sent', () => {
  const told: ToldOfUpload = { kind: 'plates-input', name: 'a.pdf', remark: '', replaces: null, sha256: null };
  const begin = async (more: Partial<ToldOfUpload>): Promise<unknown> => {
    const order = { archive, folder: join(folder, 'arriving'), mostBytes: 1e9, now: () => AT };
    const uploads = await openUploads(order);
    return laterRefusalOf(uploads.begin(ben, part.id, { ...told, ...more }, 10));
  };

  test('a plan of a book with another number of pages', async () => {
    const refused = { kind: 'malformed', pointer: 'plan/pages', found: 'one for 8' };
    expect(await laterRefusalOf(give(smallPlan(8)))).toMatchObject(refused);
  });

  test('a plan whose cells overlap, or that is none', async () => {
    const plan = smallPlan(PAGES);
    const [sheet] = plan.sheets;
    const [front, back] = sheet!.sides;
    const [first, second, ...rest] = front!.cells;
    const cells = [first!, { ...second!, box: { ...second!.box, x: second!.box.x - 30 } }, ...rest];
    const overlapping = { ...plan, sheets: [{ ...sheet!, sides: [{ ...front!, cells }, back!] }] };
    expect(await laterRefusalOf(give(overlapping))).toMatchObject({
      kind: 'malformed',
      expected: 'cells that do not overlap',
    });
    const none = givePlan(archive, ben, { partId: part.id, text: '{"format": "witnessleaf-plan/1"}' }, AT);
    expect(await laterRefusalOf(none)).toMatchObject({ kind: 'malformed', pointer: 'plan/trimmed' });
  });

  test('a plan that this part was not given', async () => {
    const other = await catalogue.titles.addPart({ titleId: part.titleId, kind: 'case', at: AT });
    const text = formatPlan(smallPlan(4));
    const { sha256, plan } = await givePlan(archive, ben, { partId: other.id, text }, AT);
    expect(plan.pages).toBe(4);
    expect(await begin({ folding: { plan: sha256 } })).toMatchObject({ kind: 'not-found', what: 'plan' });
  });

  test('folds that make no book, and folds of what is no whole plates input', async () => {
    expect(await begin({ folding: { ...SIXTEEN, fold: '15' } })).toMatchObject({
      kind: 'malformed',
      pointer: 'sections',
    });
    expect(await begin({ folding: { ...SIXTEEN, fold: 'R>L, T>B' } })).toMatchObject({
      kind: 'malformed',
      pointer: 'folds',
    });
    const refused = { kind: 'malformed', pointer: '/folding', expected: 'a whole plates input' };
    expect(await begin({ kind: 'revision', folding: SIXTEEN })).toMatchObject(refused);
    expect(await begin({ replaces: [{ first: 1, last: 2 }], folding: SIXTEEN })).toMatchObject(refused);
    const arrived = { ...told, partId: part.id, kind: 'revision', folding: SIXTEEN, sha256: '0'.repeat(64) } as const;
    expect(await laterRefusalOf(receiveFile(archive, ben, arrived, AT))).toMatchObject({ kind: 'not-found' });
  });
});

test('a plan has the same hash however it is laid out, and is kept whole', async () => {
  const plan = smallPlan(PAGES);
  const [one, again] = [
    await give(plan),
    await givePlan(archive, ben, { partId: part.id, text: JSON.stringify(plan) }, AT),
  ];
  expect(again.sha256).toBe(one.sha256);
  expect(parsePlan(formatPlan(again.plan)).sheets).toEqual(parsePlan(formatPlan(plan)).sheets);
});
