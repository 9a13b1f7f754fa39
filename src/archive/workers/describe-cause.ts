import { Refusal } from '../../model/index.ts';

/** Why a job failed, in words, and whether it would fail again whatever happens. */
export interface Cause {
  readonly cause: string;
  readonly isLasting: boolean;
}

/** What a job threw, for its record. A refusal stays one, unless it is of something that may come back. */
export function describeCause(error: unknown): Cause {
  const told = error instanceof Error ? error.message : String(error);
  const isLasting = error instanceof Refusal && (error as Refusal).kind !== 'unavailable';
  return { cause: told.trim() === '' ? 'no cause was given' : told, isLasting };
}
