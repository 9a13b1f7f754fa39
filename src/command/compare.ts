import { availableParallelism } from 'node:os';
import { join, resolve } from 'node:path';
import type { CheckedRevision, CheckRequest } from '../archive/check/index.ts';
import { DEFAULT_LIMITS, DEFAULT_TOLERANCES } from '../model/index.ts';
import {
  formatReport,
  requireReportFolder,
  verdictSentence,
  writeReports,
  writeWhole,
} from '../reporting/report/index.ts';
import type { CompareTask } from './arguments.ts';
import type { Desk } from './desk.ts';
import { EXIT } from './exit-status.ts';
import { findingLines } from './finding-lines.ts';
import { inked } from './ink.ts';
import { progressBar } from './progress-bar.ts';
import type { ProgressBar } from './progress-bar.ts';
import { sheetLines } from './sheet-lines.ts';
import { namesApart, readTolerances, REPORT_MARKS, requireTarget } from './user-files.ts';
import { wrap } from './wrap.ts';

/** A check of two files; on a command line no book is put together of several. */
export type FilesRequest = CheckRequest & { readonly dummyPath: string; readonly revisionPath: string };

/** Where a comparison is made; the tests put their own here. */
export type Checking = (request: FilesRequest) => Promise<CheckedRevision>;

/** What is undone when the run is stopped from outside, and how long it may take where that is longer than usual. */
export type OnStop = (undo: () => Promise<void>, patienceMs?: number) => void;

/**
 * Compares two files, writes the reports asked for, and prints what was found.
 *
 * @returns the exit status: 0 matches, 1 differs
 * @throws {Refusal} malformed: tolerances, or a target that holds something else
 * @throws {Refusal} not-found: a file or a folder
 * @throws {Refusal} unreadable: one of the files as a whole
 */
export async function compare(task: CompareTask, desk: Desk, checking: Checking, onStop: OnStop): Promise<number> {
  const at = (path: string): string => resolve(desk.folder, path);
  const paths = { dummy: at(task.dummy), revision: at(task.revision) };
  const compared = [paths.dummy, paths.revision];
  // Whatever can be refused at once is refused before the work.
  for (const kind of ['json', 'pdf'] as const) {
    const path = task[kind];
    if (path !== null) await requireTarget({ path: at(path), mark: REPORT_MARKS[kind] }, compared);
  }
  if (task.html !== null) await requireReportFolder(at(task.html));
  const tolerances = task.tolerances === null ? DEFAULT_TOLERANCES : await readTolerances(at(task.tolerances));

  const bar = progressBar(desk.err, () => desk.now());
  onStop(async () => bar.clear());
  const workers = task.workers ?? availableParallelism();
  try {
    const checked = await checking({
      dummyPath: paths.dummy,
      revisionPath: paths.revision,
      tolerances,
      limits: DEFAULT_LIMITS,
      purpose: task.purpose,
      ...(task.pages === null ? {} : { pages: task.pages }),
      keptFolder: task.kept === null ? null : at(task.kept),
      workers,
      onProgress: (progress) => bar.show(progress),
    });
    onStop(() => checked.close());
    try {
      await writeAsked(task, checked, { at, names: namesApart(paths), workers, bar });
    } finally {
      await checked.close();
    }
    bar.clear();
    printOutcome(task, checked, desk);
    return checked.report.verdict === 'match' ? EXIT.matches : EXIT.differs;
  } finally {
    bar.clear();
  }
}

interface Writing {
  readonly at: (path: string) => string;
  readonly names: { readonly dummy: string; readonly revision: string };
  readonly workers: number;
  readonly bar: ProgressBar;
}

async function writeAsked(
  task: CompareTask,
  checked: CheckedRevision,
  { at, names, workers, bar }: Writing,
): Promise<void> {
  const { report } = checked;
  if (task.json !== null) await writeWhole(at(task.json), formatReport(report));
  const drawPage = (side: 'dummy' | 'revision', pageNumber: number, ppi: number): ReturnType<typeof checked.drawPage> =>
    checked.drawPage(side, pageNumber, ppi);
  await writeReports(
    { report, names, drawPage, ...(checked.drawSide === undefined ? {} : { drawSide: checked.drawSide }) },
    {
      ...(task.html === null ? {} : { htmlFolder: at(task.html) }),
      ...(task.pdf === null ? {} : { pdfPath: at(task.pdf) }),
      pairsAtOnce: workers,
      onProgress: ({ done, total }) => bar.show({ stage: 'reporting', done, total }),
    },
  );
}

function printOutcome(task: CompareTask, { report }: CheckedRevision, desk: Desk): void {
  const { out } = desk;
  const lines = [...sheetLines(report), ...findingLines(report, out)];
  const written = [
    task.json === null ? [] : [`Report for programs: ${task.json}`],
    task.html === null ? [] : [`Report to look at: ${join(task.html, 'index.html')}`],
    task.pdf === null ? [] : [`Report to print: ${task.pdf}`],
  ].flat();
  const verdict = verdictSentence(report);
  if (!out.isTerminal) {
    out.write([...lines, ...written, verdict].map((line) => `${line}\n`).join(''));
    return;
  }
  const gap = (part: readonly string[]): readonly string[] => (part.length === 0 ? [] : ['', ...part]);
  const told = wrap(verdict, out.columns - 1).map((line) => inked(out, line, 'strong'));
  out.write([...gap(lines), ...gap(written), '', ...told].map((line) => `${line}\n`).join(''));
}
