import { Refusal } from '../../model/index.ts';
import type { Pool } from '../../reading/pool/index.ts';
import type { SentFile } from '../catalogue/index.ts';
import type { KnownFile } from '../check-request.ts';
import { reportOn } from '../check-revision.ts';
import type { KeptFacts } from '../kept-facts.ts';
import { describeFile } from '../read-file.ts';
import type { CheckingOrder } from './checking-order.ts';

/** What is asked of them is refused at once. */
const NOBODY: Pool = {
  size: 1,
  run: () => Promise.reject(new Refusal('unavailable', { what: 'a worker', reason: 'this check has none' })),
  getReady: () => Promise.resolve(),
  standing: () => ({ jobs: 0, fewestDone: 0 }),
  close: () => Promise.resolve(),
};

/**
 * Checks a file by what is known of it and its dummy from an earlier check, for practice: no worker has anything to do, no
 * file is opened, nothing is kept. What is not known counts as unreadable.
 */
export async function checkOnceMore(
  { limits, tolerances }: Pick<CheckingOrder, 'limits' | 'tolerances'>,
  kept: KeptFacts,
  [dummy, file]: readonly [SentFile, SentFile],
): Promise<void> {
  const tools = { pool: NOBODY, limits, kept: { ...kept, write: () => Promise.resolve() } };
  const [dummyPath, revisionPath] = [knownFile(dummy), knownFile(file)];
  const files = {
    dummy: await describeFile(tools, dummyPath, () => undefined),
    revision: await describeFile(tools, revisionPath, () => undefined),
  };
  const request = { dummyPath, revisionPath, tolerances, limits, keptFolder: null, workers: NOBODY };
  await reportOn({ request: { ...request, purpose: 'compare' }, tools, files, scratch: '' });
}

/** Nobody opens it. */
function knownFile({ sha256 }: SentFile): KnownFile {
  return { path: '', sha256, bytes: 0 };
}
