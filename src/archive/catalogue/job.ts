import type { Database } from './database.ts';
import { newId } from './new-id.ts';
import type { Row } from './row.ts';
import { numberIn, textIn, textOrNullIn, wordIn } from './row.ts';

/** What is done in the background. */
export type JobKind = 'read' | 'compare' | 'report';
const JOB_KINDS: readonly JobKind[] = ['read', 'compare', 'report'];

/** Where a job stands. */
export type JobState = 'waiting' | 'running' | 'done' | 'failed';
const JOB_STATES: readonly JobState[] = ['waiting', 'running', 'done', 'failed'];

/** Somebody wants this done. */
export interface JobToDo {
  readonly kind: JobKind;
  /** What it is for, in one text: asked for twice, it is one job. */
  readonly key: string;
  /** What the worker needs to know; JSON. */
  readonly order: unknown;
  readonly at: number;
  /** 5 where nothing is said. */
  readonly mostTries?: number;
}

/** A job as it stands. */
export interface Job {
  readonly id: string;
  readonly kind: JobKind;
  readonly key: string;
  readonly order: unknown;
  readonly state: JobState;
  /** Started so often, this time included. */
  readonly tries: number;
  readonly mostTries: number;
  readonly progress: { readonly stage: string; readonly done: number; readonly total: number };
  /** Of a job that is done; null before. */
  readonly result: unknown;
  /** Of the last failure. */
  readonly cause: string | null;
  readonly madeMs: number;
  readonly changedMs: number;
}

const MOST_TRIES = 5;

/** Asks for a job, or finds the one that was asked for under this key. */
export function addJob(database: Database, { kind, key, order, at, mostTries = MOST_TRIES }: JobToDo): Job {
  database.run(
    `INSERT INTO job (id, kind, key, order_json, state, not_before_ms, tries, most_tries, stage, steps_done,
       steps_total, made_ms, changed_ms)
     SELECT :id, :kind, :key, :order, 'waiting', :at, 0, :mostTries, '', 0, 0, :at, :at
     WHERE NOT EXISTS (SELECT 1 FROM job WHERE key = :key)`,
    { id: newId(), kind, key, order: JSON.stringify(order ?? null), at, mostTries },
  );
  return jobOf(database.one('SELECT * FROM job WHERE key = :key', { key }) ?? {});
}

/** Reads a row of the table of jobs. */
export function jobOf(row: Row): Job {
  const result = textOrNullIn(row, 'result_json');
  return {
    id: textIn(row, 'id'),
    kind: wordIn(row, 'kind', JOB_KINDS),
    key: textIn(row, 'key'),
    order: JSON.parse(textIn(row, 'order_json')) as unknown,
    state: wordIn(row, 'state', JOB_STATES),
    tries: numberIn(row, 'tries'),
    mostTries: numberIn(row, 'most_tries'),
    progress: {
      stage: textIn(row, 'stage'),
      done: numberIn(row, 'steps_done'),
      total: numberIn(row, 'steps_total'),
    },
    result: result === null ? null : (JSON.parse(result) as unknown),
    cause: textOrNullIn(row, 'cause'),
    madeMs: numberIn(row, 'made_ms'),
    changedMs: numberIn(row, 'changed_ms'),
  };
}
