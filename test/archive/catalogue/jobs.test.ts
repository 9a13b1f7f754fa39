import { describe, expect, it } from 'vitest';
import type { Catalogue, Job, JobToDo, Lease } from '../../../src/archive/index.ts';
import { bookInCatalogue } from './filled-catalogue.ts';

const reading = (key: string, at = 10, more: Partial<JobToDo> = {}): JobToDo => ({
  kind: 'read',
  key,
  order: { blob: key },
  at,
  ...more,
});

async function queue(): Promise<Catalogue['jobs']> {
  return (await bookInCatalogue()).catalogue.jobs;
}

async function claimed(jobs: Catalogue['jobs'], at: number, owner = 'desk'): Promise<Lease> {
  const lease = await jobs.claim({ owner, at, leaseMs: 100 });
  if (lease === null) throw new Error('nothing to claim');
  return lease;
}

const short = (job: Job | null) => job && { key: job.key, state: job.state, tries: job.tries, cause: job.cause };

describe('the work queue', () => {
  it('K9 takes a job that is asked for twice as one, also after it is done', async () => {
    const jobs = await queue();
    const first = await jobs.add(reading('a'));
    expect(await jobs.add(reading('a', 20, { order: 'another' }))).toEqual(first);
    await jobs.finish(await claimed(jobs, 30), { at: 31, result: { pages: 8 } });
    const again = await jobs.add(reading('a', 40));
    expect([again.id, again.state, again.result]).toEqual([first.id, 'done', { pages: 8 }]);
    expect(await jobs.claim({ owner: 'desk', at: 50, leaseMs: 100 })).toBe(null);
  });

  it('gives each job to one owner, the oldest first', async () => {
    const jobs = await queue();
    await jobs.add(reading('late', 12));
    await jobs.add(reading('early', 11));
    const [one, other] = await Promise.all([claimed(jobs, 20), claimed(jobs, 20, 'other')]);
    expect([one.job.key, other.job.key]).toEqual(['early', 'late']);
    expect(await jobs.claim({ owner: 'desk', at: 20, leaseMs: 100 })).toBe(null);
  });

  it('tells how far a job has come while its lease lasts', async () => {
    const jobs = await queue();
    await jobs.add(reading('a'));
    const lease = await claimed(jobs, 20);
    const progress = { stage: 'drawing', done: 3, total: 8 };
    expect(await jobs.renew(lease, { at: 90, leaseMs: 100, progress })).toBe(true);
    expect((await jobs.byKey('a'))?.progress).toEqual(progress);
    expect(await jobs.claim({ owner: 'other', at: 189, leaseMs: 100 })).toBe(null);
    expect((await claimed(jobs, 190, 'other')).job.tries).toBe(2);
  });

  it('K10 takes no word from an owner whose lease went to another', async () => {
    const jobs = await queue();
    await jobs.add(reading('a'));
    const old = await claimed(jobs, 20);
    const fresh = await claimed(jobs, 120);
    expect(await jobs.finish(old, { at: 121, result: 'stale', then: [reading('b')] })).toBe(false);
    expect(await jobs.fail(old, { at: 121, cause: 'stale', again: null })).toBe(false);
    expect(await jobs.renew(old, { at: 121, leaseMs: 100 })).toBe(false);
    expect(await jobs.giveBack(old, 121)).toBe(false);
    expect(await jobs.byKey('b')).toBe(null);
    expect(await jobs.finish(fresh, { at: 122, result: 'fresh' })).toBe(true);
  });

  it('K10 asks for what follows together with the end of a job', async () => {
    const jobs = await queue();
    await jobs.add(reading('a'));
    const then = [{ kind: 'compare', key: 'b', order: null, at: 21 } as const];
    await jobs.finish(await claimed(jobs, 20), { at: 21, result: null, then });
    expect((await claimed(jobs, 22)).job).toMatchObject({ key: 'b', kind: 'compare' });
  });

  it('K11 takes back at a start what the same owner held, and leaves others theirs', async () => {
    const jobs = await queue();
    for (const key of ['a', 'b', 'c']) await jobs.add(reading(key));
    await claimed(jobs, 20);
    await claimed(jobs, 20);
    await claimed(jobs, 20, 'other');
    expect(await jobs.takeBack('desk', 30)).toBe(2);
    const cause = 'the program ended while it worked on this, 1 of 5 times';
    expect((await Promise.all(['a', 'b', 'c'].map((key) => jobs.byKey(key)))).map(short)).toEqual([
      { key: 'a', state: 'waiting', tries: 1, cause },
      { key: 'b', state: 'waiting', tries: 1, cause },
      { key: 'c', state: 'running', tries: 1, cause: null },
    ]);
  });

  it('K12 fails a job that takes the program down each time, with the cause, after its last try', async () => {
    const jobs = await queue();
    await jobs.add(reading('poison', 10, { mostTries: 3 }));
    for (const start of [20, 30, 40]) {
      await claimed(jobs, start);
      await jobs.takeBack('desk', start + 5);
    }
    expect(short(await jobs.byKey('poison'))).toEqual({
      key: 'poison',
      state: 'failed',
      tries: 3,
      cause: 'the program ended while it worked on this, 3 of 3 times',
    });
  });

  it('K12 fails a job whose worker never comes back, with the cause', async () => {
    const jobs = await queue();
    await jobs.add(reading('poison', 10, { mostTries: 2 }));
    await claimed(jobs, 20);
    await claimed(jobs, 120);
    expect(await jobs.claim({ owner: 'desk', at: 220, leaseMs: 100 })).toBe(null);
    const cause = 'the worker did not come back from it, 2 of 2 times';
    expect(short(await jobs.byKey('poison'))).toEqual({ key: 'poison', state: 'failed', tries: 2, cause });
  });

  it('K12 lets a job that has failed before wait for all that have not', async () => {
    const jobs = await queue();
    await jobs.add(reading('poison', 10));
    await jobs.add(reading('good', 11));
    await jobs.fail(await claimed(jobs, 20), { at: 21, cause: 'torn', again: 21 });
    expect((await claimed(jobs, 22)).job.key).toBe('good');
    expect((await claimed(jobs, 22)).job).toMatchObject({ key: 'poison', cause: 'torn', tries: 2 });
  });

  it('tries suspects one at a time, so that the innocent are not counted out with the guilty', async () => {
    const jobs = await queue();
    await jobs.add(reading('innocent', 10));
    await jobs.add(reading('poison', 11));
    await claimed(jobs, 20);
    await claimed(jobs, 20);
    await jobs.takeBack('desk', 30);
    await jobs.add(reading('fresh', 31));
    const next = [await claimed(jobs, 40), await claimed(jobs, 40)].map(({ job }) => job.key);
    expect(next).toEqual(['fresh', 'innocent']);
    expect(await jobs.claim({ owner: 'desk', at: 40, leaseMs: 100 })).toBe(null);
  });

  it('does not try again before it is time, nor where it is in vain', async () => {
    const jobs = await queue();
    await jobs.add(reading('later'));
    await jobs.fail(await claimed(jobs, 20), { at: 21, cause: 'disk', again: 500 });
    expect(await jobs.claim({ owner: 'desk', at: 499, leaseMs: 100 })).toBe(null);
    await jobs.fail(await claimed(jobs, 500), { at: 501, cause: 'encrypted', again: null });
    expect(short(await jobs.byKey('later'))).toEqual({ key: 'later', state: 'failed', tries: 2, cause: 'encrypted' });
  });

  it('tries a failed job from the first try on when somebody asks for it', async () => {
    const jobs = await queue();
    const { id } = await jobs.add(reading('a'));
    expect(await jobs.retry(id, 15)).toBe(false);
    await jobs.fail(await claimed(jobs, 20), { at: 21, cause: 'torn', again: null });
    expect(await jobs.retry(id, 30)).toBe(true);
    expect((await claimed(jobs, 31)).job).toMatchObject({ id, state: 'running', tries: 1 });
  });

  it('does not count a try that was given back', async () => {
    const jobs = await queue();
    await jobs.add(reading('a'));
    await jobs.giveBack(await claimed(jobs, 20), 21);
    expect(short(await jobs.byKey('a'))).toEqual({ key: 'a', state: 'waiting', tries: 0, cause: null });
  });

  it('bears a clock that was set back', async () => {
    const jobs = await queue();
    await jobs.add(reading('a', 1000));
    const lease = await claimed(jobs, 1000);
    expect(await jobs.finish(lease, { at: 400, result: 1 })).toBe(true);
    expect(await jobs.byKey('a')).toMatchObject({ state: 'done', madeMs: 1000, changedMs: 1000 });
  });
});
