import type { Access } from './access.ts';
import { claimJob } from './claim-job.ts';
import type { Lease } from './claim-job.ts';
import type { Database } from './database.ts';
import type { Job, JobToDo } from './job.ts';
import { addJob, jobOf } from './job.ts';
import { numberIn } from './row.ts';

/** The work queue: jobs that survive a kill at any moment. A step of a lease that was lost changes nothing and says false. */
export interface Jobs {
  /** Asked for twice under one key, it is one job: the first, which is given back. */
  add(job: JobToDo): Promise<Job>;
  get(id: string): Promise<Job | null>;
  byKey(key: string): Promise<Job | null>;
  /** Not done yet, in the order in which they will be taken. */
  open(): Promise<readonly Job[]>;
  /** Takes the next job, or null where there is none to do now. */
  claim(given: { readonly owner: string; readonly at: number; readonly leaseMs: number }): Promise<Lease | null>;
  /** Keeps the lease, and says how far the work has come. */
  renew(
    lease: Lease,
    given: {
      readonly at: number;
      readonly leaseMs: number;
      readonly progress?: { readonly stage: string; readonly done: number; readonly total: number };
    },
  ): Promise<boolean>;
  /** Done, and what follows from it is asked for in the same transaction. */
  finish(
    lease: Lease,
    given: { readonly at: number; readonly result: unknown; readonly then?: readonly JobToDo[] },
  ): Promise<boolean>;
  /** It did not work: tried again from `again` on, unless this was the last try or `again` is null. */
  fail(
    lease: Lease,
    given: { readonly at: number; readonly cause: string; readonly again: number | null },
  ): Promise<boolean>;
  /** Not begun after all, as at a graceful stop: it waits again, and the try does not count. */
  giveBack(lease: Lease, at: number): Promise<boolean>;
  /** At the start of an owner: what it held when it was killed waits again, or fails after its last try. @returns how many */
  takeBack(owner: string, at: number): Promise<number>;
  /** Somebody wants a failed job tried again, from the first try on. */
  retry(id: string, at: number): Promise<boolean>;
}

const MINE = `id = :id AND state = 'running' AND owner = :owner AND tries = :tries`;
const LET_GO = 'owner = NULL, lease_until_ms = NULL';

/** The table of jobs. */
export function jobsIn(access: Access): Jobs {
  const one = (column: 'id' | 'key', value: string): Promise<Job | null> =>
    access.read((database) => {
      const row = database.one(`SELECT * FROM job WHERE ${column} = :value`, { value });
      return row && jobOf(row);
    });
  return {
    add: (job) => access.write((database) => addJob(database, job)),
    get: (id) => one('id', id),
    byKey: (key) => one('key', key),
    open: () =>
      access.read((database) =>
        database
          .all(`SELECT * FROM job WHERE state IN ('waiting', 'running') ORDER BY tries, made_ms, rowid`)
          .map(jobOf),
      ),
    claim: (given) => access.write((database) => claimJob(database, given)),
    renew: ({ job, owner }, { at, leaseMs, progress }) =>
      access.write((database) => {
        const { stage, done, total } = progress ?? { stage: null, done: null, total: null };
        return (
          database.run(
            `UPDATE job SET lease_until_ms = :until, stage = coalesce(:stage, stage),
               steps_done = coalesce(:done, steps_done), steps_total = coalesce(:total, steps_total),
               changed_ms = max(changed_ms, :at) WHERE ${MINE}`,
            { id: job.id, owner, tries: job.tries, until: at + leaseMs, stage, done, total, at },
          ) === 1
        );
      }),
    finish: ({ job, owner }, { at, result, then = [] }) =>
      access.write((database) => {
        const isMine = database.run(
          `UPDATE job SET state = 'done', ${LET_GO}, steps_done = steps_total, result_json = :result, cause = NULL,
             changed_ms = max(changed_ms, :at) WHERE ${MINE}`,
          { id: job.id, owner, tries: job.tries, result: JSON.stringify(result ?? null), at },
        );
        if (isMine === 1) then.forEach((next) => addJob(database, next));
        return isMine === 1;
      }),
    fail: ({ job, owner }, { at, cause, again }) =>
      access.write(
        (database) =>
          database.run(
            `UPDATE job SET ${LET_GO}, cause = :cause, changed_ms = max(changed_ms, :at),
               state = CASE WHEN :again IS NULL OR tries >= most_tries THEN 'failed' ELSE 'waiting' END,
               not_before_ms = coalesce(:again, not_before_ms) WHERE ${MINE}`,
            { id: job.id, owner, tries: job.tries, cause, again, at },
          ) === 1,
      ),
    giveBack: ({ job, owner }, at) =>
      access.write(
        (database) =>
          database.run(
            `UPDATE job SET state = 'waiting', ${LET_GO}, tries = tries - 1, changed_ms = max(changed_ms, :at)
             WHERE ${MINE}`,
            { id: job.id, owner, tries: job.tries, at },
          ) === 1,
      ),
    takeBack: (owner, at) => access.write((database) => takeBack(database, owner, at)),
    retry: (id, at) =>
      access.write(
        (database) =>
          database.run(
            `UPDATE job SET state = 'waiting', tries = 0, not_before_ms = :at, changed_ms = max(changed_ms, :at)
             WHERE id = :id AND state = 'failed'`,
            { id, at },
          ) === 1,
      ),
  };
}

function takeBack(database: Database, owner: string, at: number): number {
  const before = database.one(`SELECT count(*) AS held FROM job WHERE state = 'running' AND owner = :owner`, { owner });
  database.run(
    `UPDATE job SET ${LET_GO}, changed_ms = max(changed_ms, :at), not_before_ms = :at,
       state = CASE WHEN tries >= most_tries THEN 'failed' ELSE 'waiting' END,
       cause = 'the program ended while it worked on this, ' || tries || ' of ' || most_tries || ' times'
     WHERE state = 'running' AND owner = :owner`,
    { owner, at },
  );
  return numberIn(before ?? {}, 'held');
}
