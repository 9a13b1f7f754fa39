import { Refusal } from '../../src/model/index.ts';

/** What something that takes its time was refused with, as one value to assert as a whole. */
export async function refusalOf(work: Promise<unknown>): Promise<unknown> {
  try {
    await work;
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const refusal = error as Refusal;
    return { kind: refusal.kind, ...refusal.details };
  }
  return 'nothing was refused';
}
