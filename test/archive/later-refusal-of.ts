import type { RefusalKind } from '../../src/model/index.ts';
import { Refusal } from '../../src/model/index.ts';

/** As `refusalOf`, for what comes later: the refusal of a promise as one value; bugs pass through. */
export async function laterRefusalOf(promise: Promise<unknown>): Promise<unknown> {
  try {
    await promise;
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const { kind, details } = error as Refusal<RefusalKind>;
    return { kind, ...details };
  }
  return 'nothing was refused';
}
