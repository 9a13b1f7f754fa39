/**
 * One check of two files, its stages timed: `timed-check.ts [--kept FOLDER] [DUMMY FINAL ...] DUMMY FINAL`; with several
 * pairs the workers are warmed by checks of all but the last. What is kept in the folder is there for the last pair alone.
 * Prints seconds as JSON.
 */
import { availableParallelism } from 'node:os';
import { parseArgs } from 'node:util';
import { checkRevision } from '../../src/archive/check/index.ts';
import type { Progress } from '../../src/archive/check-request.ts';
import { startPageWorkers } from '../../src/archive/page-workers.ts';
import { DEFAULT_LIMITS, DEFAULT_TOLERANCES } from '../../src/model/index.ts';

/** Seconds from the stage before it to its end. */
export interface TimedCheck {
  /** Both files hashed, opened, described by their objects. */
  readonly reading: number;
  readonly drawing: number;
  /** Put in order, compared, and the report made. */
  readonly comparing: number;
  readonly whole: number;
  readonly findings: number;
}

async function timed(
  pool: ReturnType<typeof startPageWorkers>,
  [dummyPath, revisionPath]: readonly string[],
  keptFolder: string | null,
): Promise<TimedCheck> {
  const began = performance.now();
  const since = (): number => (performance.now() - began) / 1000;
  const entered = new Map<Progress['stage'], number>();
  const checked = await checkRevision({
    dummyPath: dummyPath!,
    revisionPath: revisionPath!,
    tolerances: DEFAULT_TOLERANCES,
    limits: DEFAULT_LIMITS,
    purpose: 'compare',
    keptFolder,
    workers: pool,
    onProgress: ({ stage }) => {
      if (!entered.has(stage)) entered.set(stage, since());
    },
  });
  const whole = since();
  const findings = checked.report.findings.length;
  await checked.close();
  const drawing = entered.get('drawing') ?? whole;
  const comparing = entered.get('comparing') ?? whole;
  return { reading: drawing, drawing: comparing - drawing, comparing: whole - comparing, whole, findings };
}

const { values, positionals: paths } = parseArgs({ options: { kept: { type: 'string' } }, allowPositionals: true });
const pool = startPageWorkers(availableParallelism(), DEFAULT_LIMITS);
for (let pair = 0; pair < paths.length - 2; pair += 2) await timed(pool, paths.slice(pair, pair + 2), null);
console.log(JSON.stringify(await timed(pool, paths.slice(-2), values.kept ?? null)));
await pool.close();
