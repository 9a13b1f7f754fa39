/**
 * `npm run bench:growth`: how the time of a check grows with pages, stage by stage, and how it stands to plain rasterising
 * of both files by as many processes of poppler's `pdftoppm -r 100` as there are cores, all in one run.
 *
 * Each length is checked twice, each time with nothing kept of the files: from nothing, workers started for it, and with
 * workers that have checked another book before, as in the running service. `--pages 10,32,100,320`; `--runs N`;
 * `--memory` looks at the memory of the longest in a run of its own. The books are made once; the longest takes about 1 GB.
 */
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { growingBook, WARMING_PAGES, warmingChecks } from './growing-book.ts';
import { measureRun } from './measured-run.ts';
import { rasterise } from './rasterise.ts';
import { runTimedCheck } from './run-timed-check.ts';
import { median, tellMachine, tellTargets } from './telling.ts';
import type { Target } from './telling.ts';
import type { TimedCheck } from './timed-check.ts';

const { values } = parseArgs({
  options: {
    pages: { type: 'string', default: '10,32,100,320' },
    runs: { type: 'string', default: '1' },
    memory: { type: 'boolean', default: false },
  },
});
const project = join(import.meta.dirname, '..', '..');
const lengths = values.pages.split(',').map(Number);
const runs = Number(values.runs);
/** Time a page may not grow from the one to the other. */
const [FEW, MANY] = [32, 320];

const seconds = (value: number): string => value.toFixed(2).padStart(8);
function tell(pages: number, how: string, { reading, drawing, comparing, whole }: TimedCheck): void {
  const perPage = ((whole / pages) * 1000).toFixed(0).padStart(6);
  console.log(
    `${String(pages).padStart(5)} ${how.padEnd(14)}${[reading, drawing, comparing, whole].map(seconds).join('')}${perPage}`,
  );
}

function middle(all: readonly TimedCheck[]): TimedCheck {
  return [...all].sort((one, other) => one.whole - other.whole)[all.length >> 1]!;
}

tellMachine();
console.log(`warm: workers that have checked ${WARMING_PAGES} other pages`);
console.log('pages workers       reading drawing comparing whole s, ms a page');
const warming = await warmingChecks();
const targets: Target[] = [];
/** Seconds a page, from nothing and by warm workers. */
const aPage = new Map<number, { readonly fresh: number; readonly warm: number }>();
for (const pages of lengths) {
  const files = await growingBook(pages);
  const [fresh, warm, yardstick]: [TimedCheck[], TimedCheck[], number[]] = [[], [], []];
  for (let run = 0; run < runs; run++) {
    fresh.push(runTimedCheck(...files));
    yardstick.push((await rasterise(files, pages)).wallS);
    warm.push(runTimedCheck(...warming, ...files));
  }
  tell(pages, 'from nothing', middle(fresh));
  tell(pages, 'warm', middle(warm));
  console.log(`${String(pages).padStart(5)} pdftoppm      ${' '.repeat(24)}${seconds(median(yardstick))}`);
  const each = (all: readonly TimedCheck[]): number => middle(all).whole / pages;
  aPage.set(pages, { fresh: each(fresh), warm: each(warm) });
  const over = (all: readonly TimedCheck[]): number => median(all.map(({ whole }, run) => whole / yardstick[run]!));
  targets.push(
    { name: `${pages} pages from nothing over pdftoppm`, value: over(fresh), most: 0.7, unit: '' },
    { name: `${pages} pages by warm workers over pdftoppm`, value: over(warm), most: 0.7, unit: '' },
  );
  const wrong = [...fresh, ...warm].filter(({ findings }) => findings > 0);
  if (wrong.length > 0) console.log(`${wrong.length} checks of ${pages} pages found something: the book is clean`);
}
const [few, many] = [aPage.get(FEW), aPage.get(MANY)];
if (few !== undefined && many !== undefined) {
  targets.push(
    { name: 'a page of 320 over a page of 32, from nothing', value: many.fresh / few.fresh, most: 1, unit: '' },
    { name: 'a page of 320 over a page of 32, by warm workers', value: many.warm / few.warm, most: 1, unit: '' },
  );
}
if (values.memory) {
  const [dummy, final] = await growingBook(Math.max(...lengths));
  const looked = await measureRun(
    process.execPath,
    ['src/command/witnessleaf.ts', 'compare', dummy, final],
    project,
    true,
  );
  targets.push({ name: 'peak memory of all processes, the longest', value: looked.peakMb, most: 1500, unit: ' MB' });
}
process.exitCode = tellTargets(targets) ? 0 : 1;
