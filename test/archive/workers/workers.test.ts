import { describe, expect, it } from 'vitest';
import { startWorkers } from '../../../src/archive/index.ts';
import type { Catalogue, Job, Work, Workers, WorkersOrder } from '../../../src/archive/index.ts';
import { Refusal } from '../../../src/model/index.ts';
import { bookInCatalogue } from '../catalogue/filled-catalogue.ts';

interface Floor {
  readonly jobs: Catalogue['jobs'];
  readonly troubles: unknown[];
  readonly start: (work: Work, more?: Partial<WorkersOrder>) => Promise<Workers>;
  /** Waits until nothing is open. */
  readonly settled: () => Promise<void>;
}

async function floor(): Promise<Floor> {
  const { jobs } = (await bookInCatalogue()).catalogue;
  const troubles: unknown[] = [];
  return {
    jobs,
    troubles,
    start: (work, more = {}) =>
      startWorkers({
        jobs,
        owner: 'desk',
        workers: 2,
        work: { read: work, compare: work, report: work },
        now: () => Date.now(),
        leaseMs: 5000,
        idleMs: 10,
        patienceMs: () => 1,
        onTrouble: (error) => troubles.push(error),
        ...more,
      }),
    async settled() {
      while ((await jobs.open()).length > 0) await new Promise((later) => setTimeout(later, 5));
    },
  };
}

const ask = (jobs: Catalogue['jobs'], key: string, kind: Job['kind'] = 'read'): Promise<Job> =>
  jobs.add({ kind, key, order: null, at: Date.now(), mostTries: 3 });

describe('workers', () => {
  it('do what is asked for and what follows from it', async () => {
    const { jobs, start, settled } = await floor();
    await ask(jobs, 'a');
    const then = [{ kind: 'report', key: 'a/report', order: null, at: 1 } as const];
    const workers = await start(async ({ kind, key }) => ({ result: `did ${key}`, then: kind === 'read' ? then : [] }));
    await settled();
    await workers.close();
    expect([(await jobs.byKey('a'))?.result, (await jobs.byKey('a/report'))?.result]).toEqual([
      'did a',
      'did a/report',
    ]);
  });

  it('tell how a job ended only when whoever looks finds it so', async () => {
    const { jobs, start, settled } = await floor();
    const seen: Promise<string | undefined>[] = [];
    const look = (key: string) => seen.push(jobs.byKey(key).then((job) => job?.state));
    await ask(jobs, 'good');
    await jobs.add({ kind: 'read', key: 'poison', order: null, at: Date.now(), mostTries: 1 });
    const workers = await start(async ({ key }, { afterwards }) => {
      afterwards(() => look(key));
      if (key === 'poison') throw new Error('the page has no end');
      return { result: null };
    });
    await settled();
    await workers.close();
    expect((await Promise.all(seen)).sort()).toEqual(['done', 'failed']);
  });

  it('are never more than were asked for', async () => {
    const { jobs, start, settled } = await floor();
    for (let count = 0; count < 8; count += 1) await ask(jobs, `${count}`);
    let [busy, most] = [0, 0];
    const workers = await start(async () => {
      most = Math.max(most, (busy += 1));
      await new Promise((later) => setTimeout(later, 10));
      busy -= 1;
      return { result: null };
    });
    await settled();
    await workers.close();
    expect(most).toBe(2);
  });

  it('K12 give a poisoned file up with its cause after its tries, and do all others', async () => {
    const { jobs, start, settled } = await floor();
    for (const key of ['good 1', 'poison', 'good 2']) await ask(jobs, key);
    let tries = 0;
    const workers = await start(async ({ key }) => {
      if (key !== 'poison') return { result: null };
      tries += 1;
      throw new Error('the page has no end');
    });
    await settled();
    await workers.close();
    const states = await Promise.all(['good 1', 'poison', 'good 2'].map(async (key) => (await jobs.byKey(key))?.state));
    expect([states, tries]).toEqual([['done', 'failed', 'done'], 3]);
    expect((await jobs.byKey('poison'))?.cause).toBe('the page has no end');
  });

  it('do not try again what was refused for good, and do what may pass', async () => {
    const { jobs, start, settled } = await floor();
    await ask(jobs, 'encrypted');
    await ask(jobs, 'full');
    const tries = { encrypted: 0, full: 0 };
    const workers = await start(async ({ key }) => {
      const which = key === 'full' ? 'full' : 'encrypted';
      tries[which] += 1;
      if (which === 'encrypted') throw new Refusal('unreadable', { file: 'a.pdf', reason: 'it is encrypted' });
      if (tries.full === 1) throw new Refusal('unavailable', { what: 'the disk', reason: 'it is full' });
      return { result: null };
    });
    await settled();
    await workers.close();
    expect(tries).toEqual({ encrypted: 1, full: 2 });
    expect((await jobs.byKey('encrypted'))?.cause).toBe('a.pdf: it is encrypted');
    expect((await jobs.byKey('full'))?.state).toBe('done');
  });

  it('K11 go on with what was in hand when the program was killed', async () => {
    const { jobs, start, settled } = await floor();
    await ask(jobs, 'a');
    await jobs.claim({ owner: 'desk', at: Date.now(), leaseMs: 3_600_000 });
    const workers = await start(async ({ tries }) => ({ result: tries }));
    await settled();
    await workers.close();
    expect((await jobs.byKey('a'))?.result).toBe(2);
  });

  it('keep the lease of a job that takes longer than the lease', async () => {
    const { jobs, start, settled } = await floor();
    await ask(jobs, 'slow');
    let begun = 0;
    const slow: Work = async () => {
      begun += 1;
      await new Promise((later) => setTimeout(later, 900));
      return { result: null };
    };
    const workers = await start(slow, { leaseMs: 300 });
    await settled();
    await workers.close();
    expect([begun, (await jobs.byKey('slow'))?.state]).toEqual([1, 'done']);
  });

  it('tell how far they are', async () => {
    const { jobs, start, settled } = await floor();
    await ask(jobs, 'a');
    let seen: unknown = null;
    const workers = await start(
      async (_job, { progress }) => {
        progress('drawing', 3, 8);
        await new Promise((later) => setTimeout(later, 200));
        seen = (await jobs.byKey('a'))?.progress;
        return { result: null };
      },
      { leaseMs: 150 },
    );
    await settled();
    await workers.close();
    expect(seen).toEqual({ stage: 'drawing', done: 3, total: 8 });
  });

  it('give back what they hold when they are stopped, and it does not count as a try', async () => {
    const { jobs, start } = await floor();
    await ask(jobs, 'a');
    let begun: () => void = () => undefined;
    const isBegun = new Promise<void>((done) => (begun = done));
    const workers = await start(
      (_job, { signal }) =>
        new Promise((_done, fail) => {
          signal.addEventListener('abort', () => fail(new Error('stopped')));
          begun();
        }),
    );
    await isBegun;
    await workers.close();
    expect(await jobs.byKey('a')).toMatchObject({ state: 'waiting', tries: 0 });
  });

  it('look at once when they are nudged', async () => {
    const { jobs, start, settled } = await floor();
    const workers = await start(async () => ({ result: null }), { idleMs: 3_600_000 });
    await new Promise((later) => setTimeout(later, 50));
    await ask(jobs, 'a');
    workers.nudge();
    await settled();
    await workers.close();
    expect((await jobs.byKey('a'))?.state).toBe('done');
  });

  it('tell of trouble with the catalogue and go on', async () => {
    const { jobs, start, settled, troubles } = await floor();
    await ask(jobs, 'a');
    let calls = 0;
    const failing: Catalogue['jobs'] = {
      ...jobs,
      claim: (given) => ((calls += 1) === 1 ? Promise.reject(new Error('disk full')) : jobs.claim(given)),
    };
    const workers = await start(async () => ({ result: null }), { jobs: failing, workers: 1 });
    await settled();
    await workers.close();
    expect(troubles).toEqual([new Error('disk full')]);
  });
});
