/**
 * `npm run bench`: a cold comparison of a 32-page book at 300 ppi CMYK with its dummy, against the time that poppler's
 * `pdftoppm -r 100` needs merely to rasterise the two files with as many processes as there are cores. Once by the command,
 * which starts its workers for it, and once by workers that have checked another book, as the service keeps them. Same run,
 * same cores, in turn; medians of five. `--runs N` for another number, `--json FILE` for programs.
 */
import { spawnSync } from 'node:child_process';
import { rmSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { BENCH_FOLDER, benchBook, megabytes } from './bench-book.ts';
import { WARMING_PAGES, warmingChecks } from './growing-book.ts';
import type { MeasuredRun } from './measured-run.ts';
import { measureRun } from './measured-run.ts';
import { rasterise } from './rasterise.ts';
import { runTimedCheck } from './run-timed-check.ts';
import { median, tellMachine, tellRuns, tellTargets } from './telling.ts';
import type { TimedCheck } from './timed-check.ts';

const { values } = parseArgs({ options: { runs: { type: 'string', default: '5' }, json: { type: 'string' } } });
const runs = Number(values.runs);
const project = join(import.meta.dirname, '..', '..');
const folder = BENCH_FOLDER;
const cores = availableParallelism();

if (spawnSync('pdftoppm', ['-v']).error) {
  console.error('bench: pdftoppm is missing (Debian package poppler-utils)');
  process.exit(2);
}
const { dummy, final } = await benchBook();
const warming = await warmingChecks();
tellMachine();
console.log(`dummy ${megabytes(dummy)}, final ${megabytes(final)}, 32 pages each, ${runs} runs`);

const kept = join(folder, 'kept-facts');
const command = ['src/command/witnessleaf.ts', 'compare', dummy, final, '--json', join(folder, 'report.json')];
const compare = (...more: string[]): Promise<MeasuredRun> =>
  measureRun(process.execPath, [...command, ...more], project);

const cold: MeasuredRun[] = [];
const yardstick: MeasuredRun[] = [];
const warm: MeasuredRun[] = [];
const byWarmWorkers: TimedCheck[] = [];
for (let run = 0; run < runs; run++) {
  cold.push(await compare());
  yardstick.push(await rasterise([dummy, final], 32));
  byWarmWorkers.push(runTimedCheck(...warming, dummy, final));
  if (run === 0) {
    rmSync(kept, { recursive: true, force: true });
    await compare('--kept', kept);
  }
  warm.push(await compare('--kept', kept));
}

// Memory is looked at in a run of its own, which is not timed.
const looked = await measureRun(process.execPath, command, project, true);

tellRuns('comparison, cold', cold);
tellRuns(`pdftoppm -r 100, ${cores} processes`, yardstick);
tellRuns('comparison, facts kept', warm);
const warmS = median(byWarmWorkers.map(({ whole }) => whole));
console.log(`by workers that have checked ${WARMING_PAGES} other pages ${warmS.toFixed(2)} s`);
const ratio = median(cold.map(({ wallS }, i) => wallS / yardstick[i]!.wallS));
const served = median(byWarmWorkers.map(({ whole }, i) => whole / yardstick[i]!.wallS));
const repeat = median(warm.map(({ wallS }, i) => wallS / cold[i]!.wallS));
const peak = looked.peakMb;
const reached = tellTargets([
  { name: 'cold comparison over pdftoppm', value: ratio, most: 0.7, unit: '' },
  { name: 'by warm workers over pdftoppm', value: served, most: 0.7, unit: '' },
  { name: 'repeat with facts kept over cold', value: repeat, most: 0.15, unit: '' },
  { name: 'peak memory of all processes', value: peak, most: 2000, unit: ' MB' },
]);
const wrong = [...cold, ...warm, looked].filter(({ exitStatus }) => exitStatus !== 0);
const found = byWarmWorkers.filter(({ findings }) => findings > 0).length;
if (found > 0) console.log(`${found} checks by warm workers found something: the book is clean`);
if (wrong.length > 0)
  console.log(`${wrong.length} comparisons ended with status ${wrong[0]!.exitStatus}: the book is clean, 0 expected`);
if (values.json !== undefined)
  writeFileSync(
    values.json,
    JSON.stringify({ cold, yardstick, warm, byWarmWorkers, ratio, served, repeat, peak }, null, 2),
  );
process.exitCode = wrong.length + found > 0 || !reached ? 1 : 0;
