import {
  bookPages,
  PAGE_RENDERER,
  type BookPage,
  type KeptReport,
  type SentFile,
  type Tables,
} from '../../archive/index.ts';
import type { PagePair, Report } from '../../model/index.ts';
import type { PackFacts, PackScope } from '../../evidence/index.ts';

/** A report as it is kept, and what it says. */
export interface ReadReport {
  readonly kept: KeptReport;
  readonly report: Report;
}

/** From what the histories of pages are told. */
export interface HistoryOrder {
  readonly files: readonly SentFile[];
  readonly reports: readonly ReadReport[];
  readonly scope: PackScope;
}

type History = PackFacts['history'][number];
type PageState = History['states'][number];
type HistoryTables = Pick<Tables, 'files' | 'foldedBooks' | 'pages' | 'pictures'>;

/**
 * What became of pages from the dummy through every later file: of the one page that a pack is about, or of every page
 * with a finding that somebody has to decide on.
 */
export async function pageHistories(
  tables: HistoryTables,
  { files, reports, scope }: HistoryOrder,
): Promise<readonly History[]> {
  const histories: History[] = [];
  for (const partId of new Set(files.map((file) => file.partId))) {
    const own = files.filter((file) => file.partId === partId);
    const pages = scope.kind === 'page' ? [scope.dummyPage] : disputedPages(reports, partId);
    for (const dummyPage of pages) {
      const states = await Promise.all(own.map((file) => stateIn(tables, file, dummyPage, reports)));
      histories.push({ partId, dummyPage, states });
    }
  }
  return histories;
}

function disputedPages(reports: readonly ReadReport[], partId: string): readonly number[] {
  const pages = reports
    .filter(({ kept }) => kept.partId === partId)
    .flatMap(({ report }) => report.findings.filter(({ weight }) => weight !== 'note'))
    .flatMap(({ dummyPage }) => (dummyPage === null ? [] : [dummyPage]));
  return [...new Set(pages)].sort((one, other) => one - other);
}

async function stateIn(
  tables: HistoryTables,
  file: SentFile,
  dummyPage: number,
  reports: readonly ReadReport[],
): Promise<PageState> {
  const nothing = { fileId: file.id, pageNumber: null, contentHash: null, picture: null };
  const latest = reports.findLast(({ kept }) => kept.fileId === file.id);
  const pages = await bookPages(tables, file, latest?.kept);
  if (file.kind === 'dummy') {
    const pageNumber = pages === null || dummyPage > pages.length ? null : dummyPage;
    return { ...nothing, pageNumber, state: 'dummy', ...(await shownAt(tables, pages, dummyPage)) };
  }
  const pair = latest?.report.pages.find((one) => one.dummyPage === dummyPage && one.state !== 'repeated');
  if (pair === undefined) return { ...nothing, state: 'not-compared' };
  const { revisionPage } = pair;
  return {
    ...nothing,
    pageNumber: revisionPage,
    state: stateOf(pair),
    ...(revisionPage === null ? {} : await shownAt(tables, pages, revisionPage)),
  };
}

function stateOf({ state }: PagePair): PageState['state'] {
  return state === 'added' || state === 'repeated' ? 'differs' : state;
}

/** Widths in which a page may have been drawn for people, the best for a sheet of paper first. */
const WIDTHS = [640, 1280, 320, 2560, 160];

async function shownAt(
  tables: HistoryTables,
  pages: readonly BookPage[] | null,
  pageNumber: number,
): Promise<Pick<PageState, 'contentHash' | 'picture'>> {
  const contentHash = pages?.[pageNumber - 1]?.contentHash ?? null;
  if (contentHash === null) return { contentHash, picture: null };
  for (const widthPx of WIDTHS) {
    const picture = await tables.pictures.page({ contentHash, widthPx, renderer: PAGE_RENDERER });
    if (picture !== null) return { contentHash, picture: `history/${picture.sha256}.webp` };
  }
  return { contentHash, picture: null };
}
