/**
 * `npm run bench:revision`: what a revision costs of which two pages of 160 changed, where the facts of the revision before
 * it are kept, over a cold check of the same files. The final is at 300 ppi in process inks; the revision is written
 * again by another program (qpdf, Debian package), so that nothing of the file is the same but what its pages show.
 * Once by the command, which starts its workers for it; once by workers that have checked another book before; and once by
 * the running service, from the last byte that comes over a line of a gigabit to the report, with a pause before, in which
 * workers rest. Medians of three. `--pages N`, `--runs N` for other numbers. The first
 * run makes the book, which takes ten minutes.
 */
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { changePicture, shiftContent } from '../../demo/book/edits/pictures.ts';
import { inTurn, unaltered } from '../../demo/book/edits/pages.ts';
import { rewrite } from '../../demo/book/edits/type-and-artwork.ts';
import { longBook, writeLongBook } from './long-book.ts';
import { megabytes } from './bench-book.ts';
import { warmingChecks } from './growing-book.ts';
import type { MeasuredRun } from './measured-run.ts';
import { measureRun } from './measured-run.ts';
import { runTimedCheck } from './run-timed-check.ts';
import { servedRevision } from './served-revision.ts';
import { median, tellMachine, tellRuns, tellTargets } from './telling.ts';

const MOST = 0.05;
const { values } = parseArgs({
  options: { pages: { type: 'string', default: '160' }, runs: { type: 'string', default: '3' } },
});
const [pages, runs] = [Number(values.pages), Number(values.runs)];
const project = join(import.meta.dirname, '..', '..');
const folder = join(project, '.out', 'bench', 'long');
const at = (name: string): string => join(folder, name);
if (spawnSync('qpdf', ['--version']).error) {
  console.error('bench: qpdf is missing (Debian package qpdf)');
  process.exit(2);
}

mkdirSync(folder, { recursive: true });
const [dummy, final, revision] = ['dummy', 'final', 'revision'].map((name) => at(`${name}-${pages}.pdf`)) as [
  string,
  string,
  string,
];
const book = longBook(pages);
// a crop on one page and a word on another
const changed = inTurn(changePicture(23, 1, shiftContent(-2, 1)), rewrite(7, 'eleven winters', 'eleven winter'));
if (!existsSync(dummy)) await writeLongBook(book, 'dummy', folder, `dummy-${pages}.pdf`);
if (!existsSync(final)) await writeLongBook(book, 'final', folder, `final-${pages}.pdf`);
if (!existsSync(revision)) {
  await writeLongBook(changed(unaltered(book)).book, 'final', folder, 'as-written.pdf');
  spawnSync('qpdf', ['--object-streams=generate', at('as-written.pdf'), revision]);
  rmSync(at('as-written.pdf'));
}
tellMachine();
console.log(`${pages} pages; dummy ${megabytes(dummy)}, final ${megabytes(final)}, revision ${megabytes(revision)}`);

const [before, kept, report] = [at('kept-before'), at('kept-facts'), at('report.json')];
const compare = (file: string, ...more: string[]): Promise<MeasuredRun> =>
  measureRun(
    process.execPath,
    ['src/command/witnessleaf.ts', 'compare', dummy, file, '--json', report, ...more],
    project,
  );
/** What a report says, without what differs by the time of its making. */
const findings = (): string =>
  JSON.stringify((JSON.parse(readFileSync(report, 'utf8')) as { findings: unknown }).findings);

/** The folder of facts as it was after the file before. */
const keepAnew = (): void => {
  rmSync(kept, { recursive: true, force: true });
  cpSync(before, kept, { recursive: true });
};
const warming = await warmingChecks();
/** Seconds, by workers that are there. */
function timedByWarmWorkers(): number {
  return runTimedCheck('--kept', kept, ...warming, dummy, revision).whole;
}

rmSync(before, { recursive: true, force: true });
tellRuns('the file before, facts to be kept', [await compare(final, '--kept', before)]);
const cold: MeasuredRun[] = [];
const warm: MeasuredRun[] = [];
const byWarmWorkers: number[] = [];
const told = new Set<string>();
for (let run = 0; run < runs; run++) {
  keepAnew();
  byWarmWorkers.push(timedByWarmWorkers());
  keepAnew();
  warm.push(await compare(revision, '--kept', kept));
  told.add(findings());
  cold.push(await compare(revision));
  told.add(findings());
}
tellRuns('the revision, cold', cold);
tellRuns('the revision, facts kept', warm);
console.log(told.size === 1 ? 'the findings are the same, cold and kept' : `${told.size} different lists of findings`);
const processor = median(warm.map(({ cpuS }, i) => cpuS / cold[i]!.cpuS));
console.log(`by processor time ${processor.toFixed(3)}`);
const ratio = median(warm.map(({ wallS }, i) => wallS / cold[i]!.wallS));
const served = median(byWarmWorkers.map((seconds, i) => seconds / cold[i]!.wallS));
console.log(`by warm workers ${median(byWarmWorkers).toFixed(2)} s`);
const byService = await servedRevision({ dummy, final, revision }, runs);
const afterS = median(byService.revision);
console.log(
  `by the running service ${afterS.toFixed(2)} s after the last byte (${byService.revision.map((one) => one.toFixed(2)).join(', ')})`,
);
console.log(`the file before by the running service, cold, ${byService.cold.toFixed(2)} s after the last byte`);
console.log(`the revision’s findings by the service: ${[...byService.findings].join(' | ')}`);
const coldS = median(cold.map(({ wallS }) => wallS));
const reached = tellTargets([
  { name: 'facts kept, from nothing, over cold', value: ratio, most: MOST, unit: '' },
  { name: 'facts kept, by warm workers, over cold', value: served, most: MOST, unit: '' },
  { name: 'facts kept, by the running service, over cold', value: afterS / coldS, most: MOST, unit: '' },
  { name: 'the same over the service’s own cold check', value: afterS / byService.cold, most: MOST, unit: '' },
]);
process.exitCode = reached && told.size === 1 && byService.findings.size === 1 ? 0 : 1;
