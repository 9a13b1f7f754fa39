import type { Report, ReportSheets } from '../../model/index.ts';
import { keepBytes } from '../blobs/index.ts';
import type { KeptReport, SentFile, Tables } from '../catalogue/index.ts';
import { bookPageOf } from '../files/book-pages.ts';
import type { BookPage } from '../files/book-pages.ts';
import { pageList } from '../files/page-list.ts';
import type { Archive } from '../open-archive.ts';
import { recorded } from '../record/recorded.ts';
import { termsHash } from './check-terms.ts';
import type { CheckTerms } from './check-terms.ts';
import type { CheckingOrder } from './checking-order.ts';
import { noteFolded } from './keep-folded.ts';
import type { FreshFold } from './keep-folded.ts';
import { appearancesIn, knownFindings, noteFindings } from './known-findings.ts';
import type { KnownSoFar } from './known-findings.ts';
import { comparePlaces } from './page-differences.ts';
import { questionsOf, sameFindings } from './same-findings.ts';
import type { Appearance, KnownFinding } from './same-findings.ts';

/** A file that is compared with a dummy, both read. */
export interface Comparison {
  readonly dummy: SentFile;
  readonly file: SentFile;
  /** Of the whole book that the file stands for. */
  readonly pages: readonly BookPage[];
  readonly terms: CheckTerms;
}

/** A report that is to be kept. */
interface Fresh {
  readonly comparison: Comparison;
  readonly report: Report;
  /** Of imposed sheets: the book that the report is about. */
  readonly folded: FreshFold | null;
  readonly signal: AbortSignal;
}

const PLAN_WORDS: Readonly<Record<ReportSheets['plan'], string>> = {
  given: 'folded by the plan that was given',
  made: 'folded by the folds that were said',
  found: 'folded by the plan that was found from the sheets',
};

interface PutBlob {
  readonly sha256: string;
  readonly bytes: number;
}

/** A fresh report with its bytes on disk and its findings recognised, as far as others are known. */
interface Recognised {
  readonly comparison: Comparison;
  readonly verdict: Report['verdict'];
  /** Of imposed sheets: where the plan came from. */
  readonly planFrom: ReportSheets['plan'] | null;
  readonly blob: PutBlob;
  /** Of the pages of a book that lie in several files. */
  readonly list: PutBlob | null;
  readonly folded: FreshFold | null;
  readonly appearances: readonly Appearance[];
  readonly known: KnownSoFar;
  readonly same: ReadonlyMap<string, KnownFinding>;
}

/**
 * Keeps a report: its bytes, its row, its findings under the ids that they have in other files, its entry in the log and
 * the head over it. Where another report came in while the findings were looked at, they are looked at again, so that
 * what both have is one finding.
 *
 * @throws {Refusal} unavailable: the disk is full or fails
 */
export async function keepReport(archive: Archive, order: CheckingOrder, fresh: Fresh): Promise<KeptReport> {
  const { comparison, report, folded, signal } = fresh;
  const bytes = Buffer.from(order.formatReport(report));
  const blob = await keepBytes(archive.blobs, bytes);
  const { file, pages, dummy } = comparison;
  const list = file.replaces === null ? null : await keepBytes(archive.blobs, pageList(pages).bytes);
  // What is kept is what is read back: figures rounded as the document has them.
  const document = JSON.parse(bytes.toString()) as Report;
  const book = folded?.pages.map((page) => bookPageOf(folded.book.sha256, page)) ?? pages;
  const appearances = appearancesIn(document, book);
  for (;;) {
    const known = await knownFindings(archive, dummy.id);
    const showsTheSame = await comparePlaces(archive.blobs, order, questionsOf(appearances, known.findings));
    const same = sameFindings(appearances, known.findings, showsTheSame);
    signal.throwIfAborted();
    const { verdict } = document;
    const kept = await record(archive, order.now(), {
      comparison,
      verdict,
      planFrom: document.sheets?.plan ?? null,
      blob,
      list,
      folded,
      appearances,
      known,
      same,
    });
    if (kept !== null) return kept;
  }
}

/** The report on a file under the same dummy and terms, where there is one. */
export async function keptUnder(
  { reports }: Pick<Tables, 'reports'>,
  { dummy, file, terms }: Comparison,
): Promise<KeptReport | null> {
  const hash = termsHash(terms);
  const onFile = await reports.onFile(file.id);
  return onFile.find((report) => report.dummyId === dummy.id && report.terms === hash) ?? null;
}

async function record(archive: Archive, at: number, recognised: Recognised): Promise<KeptReport | null> {
  const { comparison, verdict, planFrom, blob, list, folded, appearances, known, same } = recognised;
  const { dummy, file, terms } = comparison;
  const { partId } = file;
  const as = { dummyId: dummy.id, folding: file.foldingNumber };
  return recorded(archive, at, async (tables, log) => {
    const before = await keptUnder(tables, comparison);
    if (before !== null) return before;
    if ((await tables.reports.onDummy(dummy.id)).length !== known.reports) return null;
    for (const put of [blob, list]) if (put !== null) await tables.blobs.add({ ...put, at });
    if (folded !== null) await noteFolded(tables, folded, { fileId: file.id, ...as, at });
    const told = { partId, ...as, fileId: file.id, terms: termsHash(terms), verdict };
    const kept = await tables.reports.add({ ...told, sha256: blob.sha256, at });
    await noteFindings(tables, { partId, reportId: kept.id, dummy, appearances, same, at });
    await log({
      kind: 'report',
      titleId: (await tables.titles.part(partId))?.titleId ?? null,
      by: null,
      subjects: [
        { what: 'report', id: kept.id, sha256: blob.sha256 },
        { what: 'dummy', id: dummy.id, sha256: dummy.sha256 },
        { what: 'file', id: file.id, sha256: file.sha256 },
        ...(list === null ? [] : [{ what: 'page-list', id: file.id, sha256: list.sha256 }]),
        ...(folded === null ? [] : [{ what: 'folding-plan', id: file.id, sha256: folded.plan.sha256 }]),
        ...(folded === null ? [] : [{ what: 'folded-book', id: file.id, sha256: folded.book.sha256 }]),
      ],
      remark: planFrom === null ? verdict : `${verdict}; ${PLAN_WORDS[planFrom]}`,
    });
    return kept;
  });
}
