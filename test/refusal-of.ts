import { Refusal, type RefusalKind } from '../src/model/index.ts';

/**
 * What a call was refused with, as one value to assert as a whole. A call that is not refused gives a sentence instead;
 * whatever is thrown beside refusals is a bug and passes through.
 */
export function refusalOf(call: () => unknown): unknown {
  try {
    call();
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const { kind, details } = error as Refusal<RefusalKind>;
    return { kind, ...details };
  }
  return 'nothing was refused';
}
