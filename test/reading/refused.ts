import { Refusal } from '../../src/model/index.ts';

/** What something that takes its time was refused with, as one value to assert as a whole. */
export async function refusalOf(work: Promise<unknown>): Promise<unknown> {
  try {
    await work;
  } catch (error) {
    if (error instanceof Refusal) return { kind: error.kind, ...error.details };
    throw error;
  }
  return 'nothing was refused';
}
