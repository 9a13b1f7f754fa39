import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { checkRevision, checkSheets, startPageWorkers } from '../../src/archive/index.ts';
import { DEFAULT_LIMITS, DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import { allTrials } from './judge/all-trials.ts';
import { complaintsOf } from './judge/complaints.ts';
import { judgeReport } from './judge/judge-report.ts';
import type { Judgement } from './judge/judge-report.ts';
import { outsideTrials } from './judge/outside-books.ts';
import { tableOf } from './judge/targets.ts';
import type { Trial } from './judge/trial.ts';
import { openStore } from './material/store.ts';

const OUT = fileURLToPath(new URL('../../.out/evaluation/', import.meta.url));

/** As many as the machine of the targets has cores. */
const WORKERS = 2;

const { values } = parseArgs({
  options: {
    /** Trials whose name has these words. */
    only: { type: 'string', multiple: true },
    /** Trials whose name has none of these words. */
    without: { type: 'string', multiple: true },
    /** A folder of further pairs of files; the environment's WITNESSLEAF_BOOKS says the same. */
    books: { type: 'string' },
    /** Only makes the files. */
    make: { type: 'boolean' },
  },
});

const books = values.books ?? process.env.WITNESSLEAF_BOOKS;
const everything = [...allTrials(openStore(OUT)), ...(books === undefined ? [] : outsideTrials(books))];
const only = values.only ?? [];
const without = values.without ?? [];
const trials = everything.filter(
  ({ name }) =>
    (only.length === 0 || only.some((words) => name.includes(words))) && !without.some((words) => name.includes(words)),
);

const workers = startPageWorkers(WORKERS, DEFAULT_LIMITS);

/** One trial, its complaints printed at once; a check that breaks off misses all that was planted. */
async function runTrial(trial: Trial): Promise<Judgement | null> {
  const paths = await trial.make();
  if (values.make === true) return null;
  const started = performance.now();
  try {
    const { planChoice, revisionPath, dummyPath } = paths;
    const terms = {
      tolerances: DEFAULT_TOLERANCES,
      limits: DEFAULT_LIMITS,
      purpose: 'compare',
      keptFolder: null,
      workers,
    } as const;
    const checked =
      planChoice === undefined
        ? await checkRevision({ ...terms, dummyPath, revisionPath })
        : await checkSheets({ ...terms, dummyPath, sheetsPath: revisionPath, planChoice });
    await checked.close();
    return judgeReport(trial, checked.report, (performance.now() - started) / 1000);
  } catch (error) {
    console.log(`BROKEN    ${trial.name}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`);
    const outcomes = trial.wanted.map((wanted) => ({ wanted, found: null, namedRightly: false }));
    const nothing = { falseAlarms: [], surplus: [], cleanPages: 0, moves: { told: 0, wanted: 0 } };
    return { trial, outcomes, ...nothing, pairing: { right: 0, all: 1, wrong: ['broken off'] }, seconds: 0 };
  }
}

const judgements: Judgement[] = [];
for (const trial of trials) {
  const judgement = await runTrial(trial);
  if (judgement === null) continue;
  judgements.push(judgement);
  const complaints = complaintsOf(judgement);
  console.log(`${complaints.length === 0 ? 'well ' : 'WRONG'} ${trial.name} (${judgement.seconds.toFixed(1)} s)`);
  for (const complaint of complaints) console.log(`      ${complaint}`);
}

await workers.close();
if (values.make === true) process.exit(0);
const table = tableOf(judgements, only.length + without.length === 0);
const width = Math.max(...table.map(({ says }) => says.length));
console.log('');
for (const { says, reached, target, ok } of table) {
  const mark = ok === null ? '' : ok ? 'reached' : 'NOT reached';
  console.log(`${says.padEnd(width)}  ${reached.padEnd(22)} target ${target.padEnd(10)} ${mark}`);
}
const seconds = judgements.reduce((total, judgement) => total + judgement.seconds, 0);
console.log(`\n${judgements.length} trials, ${seconds.toFixed(0)} s of comparing`);
mkdirSync(OUT, { recursive: true });
writeFileSync(join(OUT, 'judgement.json'), JSON.stringify({ table, judgements }, null, 1));
process.exitCode = table.every(({ ok }) => ok !== false) ? 0 : 1;
