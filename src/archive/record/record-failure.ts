import { Refusal } from '../../model/index.ts';
import { recorded, type EntryToRecord, type Recording } from './recorded.ts';

const LONGEST_REMARK = 2000;

/**
 * Records that something did not verify; other refusals leave no trace. The log says what failed, not only that it did:
 * each check, what had to be there and what was.
 */
export async function recordFailure(
  archive: Recording,
  entry: Pick<EntryToRecord, 'titleId' | 'by' | 'subjects'>,
  error: unknown,
  at: number,
): Promise<void> {
  if (!(error instanceof Refusal) || error.kind !== 'unproven') return;
  const remark = error.message.slice(0, LONGEST_REMARK).toWellFormed();
  await recorded(archive, at, (_tables, log) => log({ kind: 'failed-verification', ...entry, remark }));
}
