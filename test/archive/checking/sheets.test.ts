import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { readdirSync } from 'node:fs';
import { expect, test } from 'vitest';
import { imposeSheets } from '../../../demo/sheets/impose.ts';
import {
  blobPages,
  bookPages,
  fileFindings,
  pageHistory,
  readReport,
  scrubArchive,
  sheetsOfFile,
  signedFileOf,
} from '../../../src/archive/index.ts';
import type { SentFile } from '../../../src/archive/index.ts';
import { releasedSheets } from '../../../src/archive/statements/released-sheets.ts';
import { releasedSides } from '../../../src/model/index.ts';
import { parsePlan } from '../../../src/plates/index.ts';
import { makeEvidencePack, verifyPack } from '../../../src/reporting/index.ts';
import type { PackOrder } from '../../../src/reporting/index.ts';
import { unpack, wholeOf } from '../../reporting/evidence-pack/unpacked.ts';
import { AT } from '../two-parties.ts';
import { smallPlan, writeSheetBook } from '../sheets/sheet-book.ts';
import { openFileDesk } from './file-desk.ts';

const PAGES = 16;

test('a plates input of imposed sheets is taken apart, folded, and compared with the dummy page by page', async () => {
  const desk = await openFileDesk();
  const { catalogue, blobs } = desk.archive;
  const bookPath = await writeSheetBook(join(desk.folder, 'book.pdf'), PAGES);
  const plan = smallPlan(PAGES);
  const dummy = await desk.sendFile(bookPath, { kind: 'dummy' });
  const sheets = async (name: string, order: Partial<Parameters<typeof imposeSheets>[0]> = {}): Promise<SentFile> => {
    const outPath = join(desk.folder, `${name}.pdf`);
    await imposeSheets({ bookPath, plan, outPath, ...order });
    return desk.sendFile(outPath, { kind: 'plates-input', by: desk.foreman });
  };
  const clean = await sheets('clean');
  const wrong = await sheets('wrong', { faults: [{ kind: 'exchanged', pages: [5, 12] }] });
  await desk.workOff();

  const reportOn = async ({ id }: SentFile) => readReport(blobs, (await catalogue.reports.onFile(id))[0]!.sha256);
  const silent = await reportOn(clean);
  expect([silent.verdict, silent.findings]).toEqual(['match', []]);
  expect(silent.sheets).toMatchObject({ plan: 'found', filePages: 2, binding: 'sewn' });
  // The pages are those of the folded book; the sides are still those of the file as it was sent.
  const folded = await catalogue.foldedBooks.ofFile(clean.id);
  const pages = await bookPages(catalogue, clean);
  expect(pages?.map(({ sha256 }) => sha256)).toEqual(Array.from({ length: PAGES }, () => folded?.sha256));
  expect((await catalogue.pages.ofBlob(clean.sha256))?.length).toBe(2);
  const text = await blobs.lend(folded?.plan ?? '', (path) => readFile(path, 'utf8'));
  expect(parsePlan(text).pages).toBe(PAGES);

  const signed = await signedFileOf(catalogue, clean);
  expect(signed.pages).toEqual((await blobPages(catalogue, clean.sha256))?.map(({ contentHash }) => contentHash));
  expect(signed.pages.length).toBe(2);

  const [report] = await catalogue.reports.onFile(clean.id);
  const released = await releasedSheets({ tables: catalogue, blobs }, clean, report!);
  expect(released).toEqual(
    ['front', 'back'].map((side, at) => ({ sheet: 1, side, plates: [{ ink: 'all', sha256: signed.pages[at] }] })),
  );
  const shown = (await sheetsOfFile(desk.archive, clean))!;
  expect(releasedSides(shown, (filePage) => signed.pages[filePage - 1]!)).toEqual(released);

  const found = await fileFindings(desk.archive, wrong.id);
  expect(
    found?.findings.map(({ finding: { kind, dummyPage, revisionPage } }) => [kind, dummyPage, revisionPage]),
  ).toEqual([['pages-exchanged', 5, 12]]);
  const history = await pageHistory(desk.archive, dummy, 1);
  expect(history.map(({ file, state, pageNumber }) => [file.id, state, pageNumber])).toEqual([
    [dummy.id, 'dummy', 1],
    [clean.id, 'same-picture', 1],
    [wrong.id, 'same-picture', 1],
  ]);
  // A pack has the sheets as they were sent, the book that they fold to, and the plan of it.
  const actor = { personId: desk.editor.id, partyId: desk.editor.partyId };
  const order: PackOrder = { titleId: desk.part.titleId, scope: { kind: 'title' }, contents: 'files' };
  const { file, folder } = unpack(
    await wholeOf((await makeEvidencePack(desk.archive, actor, order, AT + 10_000)).stream),
  );
  const names = readdirSync(join(folder, 'files'));
  expect(names).toEqual(
    expect.arrayContaining([`${folded!.sha256}.pdf`, `${folded!.plan}.json`, `${clean.sha256}.pdf`]),
  );
  const { checks } = await verifyPack(file, {});
  expect(checks.filter(({ check }) => check.outcome === 'fails')).toEqual([]);

  const scrubbed = await scrubArchive(desk.folder);
  expect([scrubbed.damaged, scrubbed.missing]).toEqual([[], []]);
});
