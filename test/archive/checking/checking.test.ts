import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  archiveWork,
  bookPages,
  pageList,
  askForAllComparisons,
  checkingState,
  fileFindings,
  readReport,
} from '../../../src/archive/index.ts';
import type { FileFindings, SentFile, WorkTools } from '../../../src/archive/index.ts';
import { DEFAULT_TOLERANCES, parseLogEntry } from '../../../src/model/index.ts';
import type { SmallPage } from '../small-book.ts';
import { openFileDesk } from './file-desk.ts';
import type { FileDesk } from './file-desk.ts';

const PAGES: readonly SmallPage[] = [
  { lines: ['The harbour in the morning', 'and the boats of the night before'] },
  { lines: ['Nets are mended on the quay', 'by those who went out last'], tint: '#3366aa' },
  { lines: ['Snow on the roofs of the town', 'until the end of the month'], tint: '#883322' },
];

/** The book with some pages in another state. */
function withPages(changes: Readonly<Record<number, SmallPage>>): readonly SmallPage[] {
  return PAGES.map((page, index) => ({ ...page, ...changes[index + 1] }));
}

/** For tests that look at no pictures. */
const UNDRAWN = { drawReport: () => Promise.resolve(0) };

async function findingsOf({ archive }: FileDesk, file: SentFile): Promise<FileFindings> {
  const found = await fileFindings(archive, file.id);
  if (found === null) throw new Error(`${file.name} was not compared`);
  return found;
}

const kinds = ({ findings }: FileFindings): readonly string[] =>
  findings.map(({ finding }) => `${finding.kind} ${finding.dummyPage}`);

describe('what is sent', () => {
  it('is read, compared with the dummy and drawn by itself, and the report is an entry of the log', async () => {
    const desk = await openFileDesk();
    const { archive, part, sendPages, workOff } = desk;
    const dummy = await sendPages(PAGES, { kind: 'dummy' });
    const revision = await sendPages(withPages({ 2: { tint: '#33aa66' } }));
    await workOff();
    const { report, dummy: against, findings } = await findingsOf(desk, revision);
    expect([against.id, report.verdict, findings.map(({ weight }) => weight)]).toEqual([dummy.id, 'differs', ['stop']]);
    const entries = (await archive.catalogue.log.ofTitle(part.titleId, { from: 0, most: 10 })).map(({ bytes }) =>
      parseLogEntry(bytes),
    );
    expect(entries.map(({ kind, by, remark }) => [kind, by.party, remark])).toEqual([
      ['upload', 'publisher', 'dummy: book.pdf'],
      ['upload', 'publisher', 'revision 1: book.pdf'],
      ['report', 'archive', 'differs'],
    ]);
    expect(entries[2]?.subjects).toEqual([
      { what: 'report', id: report.id, sha256: report.sha256 },
      { what: 'dummy', id: dummy.id, sha256: dummy.sha256 },
      { what: 'file', id: revision.id, sha256: revision.sha256 },
    ]);
    const exhibits = await archive.catalogue.pictures.exhibits(report.id);
    expect(exhibits.map(({ mark, side }) => `${mark} ${side}`)).toEqual(['f1 difference', 'f1 dummy', 'f1 revision']);
    for (const { sha256 } of exhibits) expect(await archive.blobs.sizeOf(sha256)).toBeGreaterThan(100);
  });

  it('is compared as soon as a dummy is there, where it came before it', async () => {
    const desk = await openFileDesk(UNDRAWN);
    const revision = await desk.sendPages(PAGES);
    await desk.workOff();
    expect(await fileFindings(desk.archive, revision.id)).toBeNull();
    await desk.sendPages(PAGES, { kind: 'dummy' });
    await desk.workOff();
    expect((await findingsOf(desk, revision)).report.verdict).toBe('match');
  });

  it('shows its first findings before the report is made', async () => {
    const desk = await openFileDesk(UNDRAWN);
    await desk.sendPages(PAGES, { kind: 'dummy' });
    const revision = await desk.sendPages(withPages({ 2: { tint: '#33aa66' }, 3: { tint: '#22aa88' } }));
    await desk.workOff();
    const own = desk.news.filter(({ fileId }) => fileId === revision.id);
    const told = own.flatMap(({ what, data }): readonly (string | number | null)[] =>
      'findings' in data ? data.findings.map(({ dummyPage }) => dummyPage) : [what],
    );
    const outcomes = told.filter((one) => one !== 'progress');
    expect(outcomes.toSorted()).toEqual([2, 3, 'compared', 'pictures', 'read']);
    expect(outcomes.filter((one) => typeof one === 'string')).toEqual(['read', 'compared', 'pictures']);
    expect(outcomes.indexOf('compared')).toBeGreaterThan(Math.max(outcomes.indexOf(2), outcomes.indexOf(3)));
    expect(desk.order.activity.since(own[0]!.number)).toEqual(
      desk.news.filter(({ number }) => number > own[0]!.number),
    );
  });

  it('fails with a cause in words where it cannot be read, and holds up nobody', async () => {
    const desk = await openFileDesk(UNDRAWN);
    await desk.sendPages(PAGES, { kind: 'dummy' });
    const path = join(desk.folder, 'poisoned.pdf');
    await writeFile(path, 'this is a letter and no book');
    const poisoned = await desk.sendFile(path);
    const revision = await desk.sendPages(PAGES);
    await desk.sendFile(path, { kind: 'dummy' });
    await desk.workOff();
    const { reading, comparing } = await checkingState(desk.archive.catalogue, poisoned, DEFAULT_TOLERANCES);
    expect([reading?.state, reading?.cause, comparing]).toEqual(['failed', 'book.pdf: it is not a PDF file', null]);
    expect((await findingsOf(desk, revision)).report.verdict).toBe('match');
    const [stumbled] = desk.news.filter(({ what }) => what === 'stumbled');
    expect([stumbled?.fileId, stumbled?.data]).toEqual([
      poisoned.id,
      { job: 'read', cause: 'book.pdf: it is not a PDF file', isLast: true },
    ]);
  });

  it('K15 gives the report that is there when its job is done a second time', async () => {
    const desk = await openFileDesk();
    const { archive, order } = desk;
    await desk.sendPages(PAGES, { kind: 'dummy' });
    const revision = await desk.sendPages(withPages({ 2: { tint: '#33aa66' } }));
    await desk.workOff();
    const { comparing, drawing } = await checkingState(archive.catalogue, revision, DEFAULT_TOLERANCES);
    const before = [await archive.catalogue.log.size(), await findingsOf(desk, revision)];
    const tools: WorkTools = {
      progress: () => undefined,
      afterwards: () => undefined,
      signal: new AbortController().signal,
    };
    const work = archiveWork(archive, order);
    const again = await work.compare(comparing!, tools);
    expect(again.result).toEqual(comparing?.result);
    expect((await work.report(drawing!, tools)).result).toEqual(drawing?.result);
    expect([await archive.catalogue.log.size(), await findingsOf(desk, revision)]).toEqual(before);
    expect(await askForAllComparisons(archive, order)).toBe(0);
  });

  it('is worked on again where the program was stopped in the middle, and comes out the same', async () => {
    const desk = await openFileDesk(UNDRAWN);
    const { archive } = desk;
    await desk.sendPages(PAGES, { kind: 'dummy' });
    await desk.workOff();
    const revision = await desk.sendPages(withPages({ 2: { tint: '#33aa66' } }));
    await desk.workUntil(({ what, data }) => what === 'progress' && data.stage === 'drawing');
    const { reading, comparing } = await checkingState(archive.catalogue, revision, DEFAULT_TOLERANCES);
    expect([reading?.state, comparing?.state, comparing?.tries]).toEqual(['done', 'waiting', 0]);
    await desk.workOff();
    expect(kinds(await findingsOf(desk, revision))).toEqual(['artwork-changed 2']);
  });

  it('is compared anew with a revised dummy', async () => {
    const desk = await openFileDesk(UNDRAWN);
    const changed = withPages({ 2: { tint: '#33aa66' } });
    await desk.sendPages(PAGES, { kind: 'dummy' });
    const revision = await desk.sendPages(changed);
    await desk.workOff();
    const first = await findingsOf(desk, revision);
    await desk.sendPages(changed, { kind: 'dummy' });
    await desk.workOff();
    const second = await findingsOf(desk, revision);
    expect([first.report.verdict, second.report.verdict]).toEqual(['differs', 'match']);
    expect((await desk.archive.catalogue.reports.onFile(revision.id)).length).toBe(2);
  });
});

describe('pages that are supplied again', () => {
  it('are laid over the latest revision, and the whole book is compared as if it were one file', async () => {
    const desk = await openFileDesk(UNDRAWN);
    const { archive, sendPages, workOff } = desk;
    await sendPages(PAGES, { kind: 'dummy' });
    await sendPages(withPages({ 2: { tint: '#33aa66' }, 3: { tint: '#22aa88' } }));
    const mended = { ...PAGES[1], lines: ['Nets are mended on the pier', 'by those who went out last'] };
    const again = await sendPages([mended], { replaces: [{ first: 2, last: 2 }], remark: 'quay was wrong' });
    const whole = await sendPages(withPages({ 2: mended, 3: { tint: '#22aa88' } }));
    await workOff();
    const [laidOver, inOneFile] = [await findingsOf(desk, again), await findingsOf(desk, whole)];
    expect(kinds(laidOver)).toEqual(['text-changed 2', 'artwork-changed 3']);
    const [one, other] = [laidOver, inOneFile].map(({ report }) => readReport(archive.blobs, report.sha256));
    const { revision: ofPages, ...same } = (await one)!;
    const { revision: ofFile, ...sameAgain } = (await other)!;
    expect(same).toEqual(sameAgain);
    const [pages, ofWhole] = [await bookPages(archive.catalogue, again), await bookPages(archive.catalogue, whole)];
    const hashes = [pages, ofWhole].map((book) => book?.map(({ contentHash }) => contentHash));
    expect(hashes[0]).toEqual(hashes[1]);
    expect([ofPages.sha256, ofPages.pages]).toEqual([pageList(pages!).sha256, 3]);
    expect(ofFile.sha256).toBe(whole.sha256);
    expect(await archive.blobs.sizeOf(ofPages.sha256)).toBe(ofPages.bytes);
    expect(laidOver.findings.map(({ id }) => id)).toEqual(inOneFile.findings.map(({ id }) => id));
  });

  it('fail with the reason where they do not fit, and the next file goes on', async () => {
    const desk = await openFileDesk(UNDRAWN);
    await desk.sendPages(PAGES, { kind: 'dummy' });
    await desk.sendPages(PAGES);
    const tooMany = await desk.sendPages(PAGES, { replaces: [{ first: 2, last: 3 }] });
    const hasty = await desk.sendPages([PAGES[0]!], { replaces: [{ first: 1, last: 1 }] });
    await desk.workOff();
    const beyond = await desk.sendPages([PAGES[0]!], { replaces: [{ first: 9, last: 9 }] });
    await desk.workOff();
    const causes = [tooMany, hasty, beyond].map(
      async (file) => (await checkingState(desk.archive.catalogue, file, DEFAULT_TOLERANCES)).reading?.cause,
    );
    expect(await Promise.all(causes)).toEqual([
      '/replaces: as many pages in the file as it replaces (pages 2-3: 2) expected, 3 found',
      'book.pdf: revision 2, whose pages it replaces, cannot be used (/replaces: as many pages in the file as it replaces (pages 2-3: 2) expected, 3 found)',
      '/replaces: pages of the book below, which has 3 expected, page 9 found',
    ]);
    const next = await desk.sendPages([{ ...PAGES[2], tint: '#22aa88' }], { replaces: [{ first: 3, last: 3 }] });
    await desk.workOff();
    expect(kinds(await findingsOf(desk, next))).toEqual(['artwork-changed 3']);
  });
});
