import { Refusal } from '../../model/index.ts';
import type { Finding, FindingOf, Report } from '../../model/index.ts';
import type { KeptPage, SentFile } from '../catalogue/index.ts';
import { bookPageOf, bookPages } from '../files/book-pages.ts';
import type { BookPage, BookTables } from '../files/book-pages.ts';
import type { Archive } from '../open-archive.ts';
import type { CheckingOrder } from './checking-order.ts';
import { comparePlaces } from './page-differences.ts';
import type { PageQuestion, ShownPage } from './same-findings.ts';

/** Of a book that went back and forth more often, older files are hardly what lies on the sheet. */
const MOST_FILES = 6;

/** A page that may be what a page of the later file shows, and where it is from. */
interface Candidate {
  readonly file: SentFile;
  readonly page: number;
  readonly shown: BookPage;
}

/**
 * Tells of every page that differs from the dummy's whether it is one of an earlier file of the part: by its content, or
 * where it was cut out of a sheet, by what it shows. The newest such file is named; what differs is told beside it.
 *
 * @param folded  pages of the book that sheets fold to; null where the pages are the file's own
 */
export async function tellOlderPages(
  archive: Archive,
  order: CheckingOrder,
  {
    dummy,
    file,
    pages,
    report,
    folded,
  }: {
    readonly dummy: SentFile;
    readonly file: SentFile;
    readonly pages: readonly BookPage[];
    readonly report: Report;
    readonly folded: { readonly book: { readonly sha256: string }; readonly pages: readonly KeptPage[] } | null;
  },
): Promise<Report> {
  const own = folded?.pages.map((page) => bookPageOf(folded.book.sha256, page)) ?? pages;
  const differing = report.pages.flatMap(({ state, dummyPage, revisionPage }) => {
    const now = revisionPage === null ? undefined : own[revisionPage - 1];
    if (state !== 'differs' || dummyPage === null || revisionPage === null || now === undefined) return [];
    return now.contentHash === null ? [] : [{ dummyPage, revisionPage, now }];
  });
  if (differing.length === 0) return report;
  const known = await earlierPages(archive, dummy, file);
  const questions = differing.flatMap(({ dummyPage, now }) =>
    (known.get(dummyPage) ?? []).flatMap((candidate) => questionOf(candidate, now, folded !== null) ?? []),
  );
  const showsTheSame = await comparePlaces(archive.blobs, order, questions);
  const older = differing.flatMap(({ dummyPage, revisionPage, now }): FindingOf<'page-outdated'>[] => {
    const from = (known.get(dummyPage) ?? []).find((candidate) => {
      if (candidate.shown.contentHash === now.contentHash) return true;
      const question = questionOf(candidate, now, folded !== null);
      return question !== null && showsTheSame(question, WHOLE_PAGE, WHOLE_PAGE);
    });
    return from === undefined ? [] : [outdated(from, dummyPage, revisionPage)];
  });
  return withFindings(report, older);
}

/** By page of the dummy, what the earlier files had there, the newest first and each content once. */
async function earlierPages(
  { catalogue }: Archive,
  dummy: SentFile,
  file: SentFile,
): Promise<ReadonlyMap<number, readonly Candidate[]>> {
  const all = await catalogue.files.ofPart(file.partId);
  const earlier = all.filter(({ id, position }) => id !== dummy.id && position < file.position).slice(-MOST_FILES);
  const signed = (await bookPages(catalogue, dummy)) ?? [];
  const known = new Map<number, Candidate[]>();
  for (const one of earlier.toReversed()) {
    const pages = (await pagesOf(catalogue, one)) ?? [];
    pages.forEach((shown, index) => {
      const candidates = known.get(index + 1) ?? [];
      const isKnown = [signed[index], ...candidates.map((candidate) => candidate.shown)].some(
        (other) => other?.contentHash === shown.contentHash,
      );
      if (shown.contentHash === null || isKnown) return;
      known.set(index + 1, [...candidates, { file: one, page: index + 1, shown }]);
    });
  }
  return known;
}

/** Pages that did not fit over the file below were told of then. */
async function pagesOf(catalogue: BookTables, file: SentFile): Promise<readonly BookPage[] | null> {
  try {
    return await bookPages(catalogue, file);
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}

/** Pages of a file as it was sent have the same content or are not the same; those cut out of a sheet are looked at. */
function questionOf({ shown }: Candidate, now: BookPage, isCut: boolean): PageQuestion | null {
  if (!isCut || shown.contentHash === now.contentHash) return null;
  return { before: shownPage(shown), now: shownPage(now) };
}

function shownPage({ sha256, pageNumber, contentHash }: BookPage): ShownPage {
  return { key: contentHash ?? `${sha256}/${pageNumber}`, sha256, pageNumber };
}

/** Wherever two pages differ, it is on the whole of them. */
const WHOLE_PAGE = { box: null, revisionBox: null } as Finding;

function outdated(
  { file: { name, revisionNumber }, page }: Candidate,
  dummyPage: number,
  revisionPage: number,
): FindingOf<'page-outdated'> {
  const from = revisionNumber === null ? name : `revision ${revisionNumber} (${name})`;
  return {
    kind: 'page-outdated',
    weight: 'note',
    ...{ dummyPage, revisionPage, box: null, revisionBox: null },
    measured: { file: name, revisionNumber, page },
    says: `Page ${dummyPage} shows what page ${page} of ${from} showed.`,
  };
}

/** Before what else is told of the page, all of them numbered anew. */
function withFindings(report: Report, more: readonly FindingOf<'page-outdated'>[]): Report {
  if (more.length === 0) return report;
  const left = new Map(more.map((finding) => [finding.dummyPage, finding]));
  const findings = report.findings.flatMap((finding): Finding[] => {
    const before = left.get(finding.dummyPage);
    left.delete(finding.dummyPage);
    return before === undefined ? [finding] : [before, finding];
  });
  return { ...report, findings: findings.map((finding, index) => ({ ...finding, id: `f${index + 1}` })) };
}
