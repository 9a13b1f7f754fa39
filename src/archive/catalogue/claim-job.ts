import type { Database } from './database.ts';
import type { Job } from './job.ts';
import { jobOf } from './job.ts';
import { textIn } from './row.ts';

/** A job that an owner works on; `job.tries` tells this try from another of the same owner. */
export interface Lease {
  readonly job: Job;
  readonly owner: string;
}

const GIVE_UP = `UPDATE job SET state = 'failed', owner = NULL, lease_until_ms = NULL, changed_ms = max(changed_ms, :at),
    cause = 'the worker did not come back from it, ' || tries || ' of ' || most_tries || ' times'
  WHERE state = 'running' AND lease_until_ms <= :at AND tries >= most_tries`;

// What failed before comes after all that did not, and one at a time: if it takes the program down with it, jobs that
// only ran beside it are not counted out with it.
const NEXT = `SELECT id FROM job
  WHERE ((state = 'waiting' AND not_before_ms <= :at) OR (state = 'running' AND lease_until_ms <= :at))
    AND (tries = 0 OR NOT EXISTS
      (SELECT 1 FROM job AS other WHERE other.state = 'running' AND other.lease_until_ms > :at AND other.tries > 1))
  ORDER BY tries, made_ms, rowid LIMIT 1`;

/** Takes the next job that waits, or whose lease ran out; a job that ran out for the last time fails instead. */
export function claimJob(
  database: Database,
  { owner, at, leaseMs }: { readonly owner: string; readonly at: number; readonly leaseMs: number },
): Lease | null {
  database.run(GIVE_UP, { at });
  const next = database.one(NEXT, { at });
  if (next === null) return null;
  const id = textIn(next, 'id');
  database.run(
    `UPDATE job SET state = 'running', owner = :owner, lease_until_ms = :until, tries = tries + 1, stage = '',
       steps_done = 0, steps_total = 0, changed_ms = max(changed_ms, :at) WHERE id = :id`,
    { id, owner, until: at + leaseMs, at },
  );
  return { job: jobOf(database.one('SELECT * FROM job WHERE id = :id', { id }) ?? {}), owner };
}
