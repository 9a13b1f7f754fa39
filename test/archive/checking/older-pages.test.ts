import { join } from 'node:path';
import { expect, test } from 'vitest';
import { imposeSheets } from '../../../demo/sheets/impose.ts';
import { readReport } from '../../../src/archive/index.ts';
import type { SentFile } from '../../../src/archive/index.ts';
import { sheetPages, smallPlan, told } from '../sheets/sheet-book.ts';
import { writeBook } from '../small-book.ts';
import type { SmallPage } from '../small-book.ts';
import { openFileDesk } from './file-desk.ts';

const PAGES = 8;
/** The page that is another one in other files. */
const PAGE = 3;

/** A small book, with its third page as it was at another time. */
function bookOf(season: string): SmallPage[] {
  return sheetPages(PAGES).map((page, at) => (at + 1 === PAGE ? { ...page, lines: [season, ...page.lines!] } : page));
}

test('a page of an earlier file is known again on a sheet and in a book, and its file and page are named', async () => {
  const desk = await openFileDesk();
  const { catalogue, blobs } = desk.archive;
  const write = (name: string) => writeBook(join(desk.folder, `${name}.pdf`), bookOf(`As it was in ${name}`));
  const [bookPath, oldPath, neverPath] = [await write('autumn'), await write('spring'), await write('no season')];
  await desk.sendFile(bookPath, { kind: 'dummy' });
  await desk.sendFile(oldPath, { name: 'spring.pdf' });
  const onSheets = async (path: string): Promise<SentFile> => {
    const outPath = `${path}-sheets.pdf`;
    await imposeSheets({ bookPath, plan: smallPlan(PAGES), outPath, otherPages: { path, pages: [PAGE] } });
    return desk.sendFile(outPath, { kind: 'plates-input', name: 'sheets.pdf' });
  };
  const [sheets, others] = [await onSheets(oldPath), await onSheets(neverPath)];
  const book = await desk.sendFile(oldPath, { kind: 'plates-input', name: 'book.pdf' });
  await desk.workOff();

  const reportOn = async ({ id }: SentFile) => readReport(blobs, (await catalogue.reports.onFile(id))[0]!.sha256);
  const report = await reportOn(sheets);
  const [first, ...rest] = report.findings;
  expect(first).toMatchObject({
    ...{ id: 'f1', kind: 'page-outdated', weight: 'note', dummyPage: PAGE, revisionPage: PAGE },
    measured: { file: 'spring.pdf', revisionNumber: 1, page: PAGE },
    says: 'Page 3 shows what page 3 of revision 1 (spring.pdf) showed.',
  });
  expect(rest.map(({ id, weight }) => `${id} ${weight}`)).toEqual(rest.map((_, at) => `f${at + 2} stop`));
  expect(rest.length).toBeGreaterThan(0);
  expect(told(await reportOn(others)).filter((one) => one.startsWith('page-outdated'))).toEqual([]);
  expect(told(await reportOn(book))[0]).toBe('page-outdated 3 3');
}, 120_000);
