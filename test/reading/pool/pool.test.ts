import { fork } from 'node:child_process';
import { getPriority } from 'node:os';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, it } from 'vitest';
import { startPool, type Pool, type PoolOptions } from '../../../src/reading/pool/pool.ts';
import { refusalOf } from '../refused.ts';
import type { TestJob } from './worker-for-tests.ts';

const module = new URL('./worker-for-tests.ts', import.meta.url);
const SOON = { timeoutMs: 20_000 };

let pool: Pool | null = null;

function poolOf(options: Partial<PoolOptions> = {}) {
  pool = startPool({ module, size: 1, workerMb: 300, recycleAfter: 50, ...options });
  const started = pool;
  return <R>(job: TestJob, limit = SOON) => started.run<R>(job, limit);
}

async function untilGone(pid: number): Promise<boolean> {
  for (let tries = 0; tries < 200; tries++) {
    try {
      process.kill(pid, 0);
    } catch {
      return true;
    }
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
  return false;
}

afterEach(async () => {
  await pool?.close();
  pool = null;
});

describe('a pool of workers', () => {
  it('brings values there and back, typed arrays too', async () => {
    const run = poolOf();
    const value = { rgb: new Uint8Array([1, 2, 3]), pages: [1, null, 'x'], when: { nested: true } };
    expect(await run({ ask: 'echo', value })).toEqual(value);
  });

  it('shares the work among its workers and uses no more of them than it may', async () => {
    const run = poolOf({ size: 2 });
    const pids = await Promise.all([1, 2, 3, 4, 5].map(() => run<number>({ ask: 'wait', ms: 100 })));
    expect(new Set(pids).size).toBe(2);
  });

  it('hands a refusal over with its kind and details', async () => {
    expect(await refusalOf(poolOf()({ ask: 'refuse' }))).toEqual({
      kind: 'unreadable',
      ...{ file: 'book.pdf', reason: 'it is damaged', page: 7 },
    });
  });

  it('hands a bug over as an error with its message and its trace', async () => {
    const error = await poolOf()({ ask: 'fail' }).then(
      () => null,
      (cause: unknown) => cause as Error,
    );
    expect([error?.message, error?.stack?.includes('worker-for-tests.ts')]).toEqual(['a bug', true]);
  });

  it('loses only the job of a worker that is killed, and goes on with a fresh one', async () => {
    const run = poolOf({ size: 2 });
    const pids = await Promise.all([run<number>({ ask: 'wait', ms: 50 }), run<number>({ ask: 'wait', ms: 50 })]);
    const jobs = [run<number>({ ask: 'wait', ms: 400 }), run<number>({ ask: 'wait', ms: 400 })];
    const queued = run({ ask: 'echo', value: 'still here' });
    process.kill(pids[0] ?? 0, 'SIGKILL');
    const outcomes = await Promise.all(jobs.map((job) => refusalOf(job)));
    expect(outcomes.sort()).toEqual([
      { kind: 'unavailable', what: 'a worker', reason: 'it ended with its work unfinished (SIGKILL)' },
      'nothing was refused',
    ]);
    expect(await queued).toBe('still here');
  });

  it('stops a job that takes too long and goes on with a fresh worker', async () => {
    const run = poolOf();
    expect(await refusalOf(run({ ask: 'hang' }, { timeoutMs: 1500 }))).toEqual({
      kind: 'too-large',
      ...{ what: 'the time for one job', limit: 1500, found: 1500, unit: 'ms' },
    });
    expect(await run({ ask: 'echo', value: 1 })).toBe(1);
  });

  it('stops a job that fills the heap, as too large', async () => {
    const run = poolOf({ workerMb: 150 });
    const refusal = (await refusalOf(run({ ask: 'fill-heap' }))) as { what: string };
    expect({ ...refusal, found: 0 }).toEqual({
      kind: 'too-large',
      ...{ what: 'memory for one job', limit: 150, found: 0, unit: 'MB' },
    });
    expect(await run({ ask: 'echo', value: 1 })).toBe(1);
  });

  it('stops a job that fills memory outside the heap, as too large', async () => {
    const run = poolOf({ workerMb: 250 });
    const refusal = (await refusalOf(run({ ask: 'fill-memory' }))) as { found: number };
    expect({ ...refusal, found: refusal.found > 250 }).toEqual({
      kind: 'too-large',
      ...{ what: 'memory for one job', limit: 250, found: true, unit: 'MB' },
    });
  });

  it('replaces a worker after so many jobs', async () => {
    const run = poolOf({ recycleAfter: 2 });
    const pids = [];
    for (let job = 0; job < 5; job++) pids.push(await run<number>({ ask: 'pid' }));
    const [a, b, c, d, e] = pids;
    expect([a === b, b === c, c === d, d === e]).toEqual([true, false, true, false]);
  });

  it('has every worker ready before its first job, and each only once', async () => {
    const run = poolOf({ size: 2 });
    void pool?.getReady({ ask: 'note', what: 'ready' }, SOON);
    void pool?.getReady({ ask: 'note', what: 'ready' }, SOON);
    const both = (): Promise<string[][]> => Promise.all([1, 2].map(() => run<string[]>({ ask: 'noted', ms: 200 })));
    expect(await both()).toEqual([['ready'], ['ready']]);
    void pool?.getReady({ ask: 'note', what: 'ready' }, SOON);
    expect(await both()).toEqual([['ready'], ['ready']]);
  });

  it('tells when every worker is ready, what is at work, and how long each has been in practice', async () => {
    const run = poolOf({ size: 2, resting: { afterMs: 300, mostMb: 300, endMs: 60_000 } });
    await pool?.getReady({ ask: 'note', what: 'ready' }, SOON);
    expect(pool?.standing()).toEqual({ jobs: 0, fewestDone: 1 });
    const three = [1, 2, 3].map(() => run<string[]>({ ask: 'noted', ms: 100 }));
    expect(pool?.standing()).toEqual({ jobs: 3, fewestDone: Infinity });
    await Promise.all(three);
    expect(pool?.standing()).toEqual({ jobs: 0, fewestDone: 2 });
    await expect.poll(() => pool?.standing(), { interval: 50 }).toEqual({ jobs: 0, fewestDone: 0 });
  });

  it('has a worker ready too that took the place of one that died while it rested', async () => {
    const run = poolOf();
    const pid = await run<number>({ ask: 'pid' });
    process.kill(pid, 'SIGKILL');
    expect(await untilGone(pid)).toBe(true);
    await expect.poll(() => run({ ask: 'noted', ms: 0 }).catch(() => null)).toEqual([]);
    void pool?.getReady({ ask: 'note', what: 'ready' }, SOON);
    expect(await run({ ask: 'noted', ms: 0 })).toEqual(['ready']);
  });

  it('keeps a worker for the next job while it rests, in which it lets go of what it held', async () => {
    const run = poolOf({ resting: { afterMs: 50, mostMb: 300, endMs: 60_000 } });
    const pid = await run<number>({ ask: 'pid' });
    await run({ ask: 'note', what: 'a book that is open' });
    await expect.poll(() => run({ ask: 'noted', ms: 0 }), { interval: 200 }).toEqual([]);
    expect(await run<number>({ ask: 'pid' })).toBe(pid);
  });

  it('ends a worker that holds too much while it rests', async () => {
    const run = poolOf({ resting: { afterMs: 50, mostMb: 1, endMs: 60_000 } });
    expect(await untilGone(await run<number>({ ask: 'pid' }))).toBe(true);
    expect(await run({ ask: 'echo', value: 'a fresh one' })).toBe('a fresh one');
  });

  it('ends a worker that had nothing to do for long, and not before', async () => {
    const run = poolOf({ resting: { afterMs: 10_000, mostMb: 300, endMs: 400 } });
    const pid = await run<number>({ ask: 'pid' });
    expect(await run<number>({ ask: 'wait', ms: 600 })).toBe(pid);
    const began = Date.now();
    expect(await untilGone(pid)).toBe(true);
    expect(Date.now() - began).toBeGreaterThan(300);
    expect(await run<number>({ ask: 'pid' })).not.toBe(pid);
  });

  it('has its workers stand back behind other processes where it is told to', async () => {
    const pid = await poolOf({ niceness: 10 })<number>({ ask: 'pid' });
    expect(getPriority(pid)).toBe(10);
  });

  it('ends its workers when it is closed and refuses what is left', async () => {
    const run = poolOf();
    const pid = await run<number>({ ask: 'pid' });
    const left = [refusalOf(run({ ask: 'wait', ms: 5000 })), refusalOf(run({ ask: 'pid' }))];
    await pool?.close();
    expect((await Promise.all(left)).map((refusal) => (refusal as { kind: string }).kind)).toEqual([
      'unavailable',
      'unavailable',
    ]);
    expect(await untilGone(pid)).toBe(true);
  });

  it('leaves no worker behind when the process that started it dies', async () => {
    const parent = fork(fileURLToPath(new URL('./parent-for-tests.ts', import.meta.url)), { execArgv: [] });
    const pid = await new Promise<number>((resolve) => parent.on('message', (message) => resolve(message as number)));
    parent.kill('SIGKILL');
    expect(await untilGone(pid)).toBe(true);
  });
});
