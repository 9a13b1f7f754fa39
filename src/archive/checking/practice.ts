import { stat } from 'node:fs/promises';
import { setTimeout as after } from 'node:timers/promises';
import { fitBookConversion } from '../../comparing/index.ts';
import type { PageDescription } from '../../model/index.ts';
import { Refusal } from '../../model/index.ts';
import { RASTER_RENDERER } from '../../reading/pool/index.ts';
import type { Coming } from '../arriving/arrivals.ts';
import type { SentFile } from '../catalogue/index.ts';
import { openKeptFacts } from '../kept-facts.ts';
import type { KeptFacts } from '../kept-facts.ts';
import type { Archive } from '../open-archive.ts';
import type { DescribeJob, DrawAndCompareJob } from '../page-jobs.ts';
import { getWorkersReady } from '../page-workers.ts';
import { knownDescription } from '../read-file.ts';
import { checkOnceMore } from './check-once-more.ts';
import type { CheckingOrder } from './checking-order.ts';
import { dummyToCompareWith } from './dummy-to-compare-with.ts';

/** Workers, and the service itself, that practise while the file is still on its way that they will check. */
export interface Practice {
  /** A file of a part begins to come in. */
  see(partId: string): void;
  /** Begins nothing further; what is under way is waited for. */
  close(): Promise<void>;
}

/** What they practise with; without a folder for facts, nothing is known to practise on. */
type Practising = Pick<CheckingOrder, 'pool' | 'limits' | 'tolerances' | 'factsFolder' | 'recentFacts'>;

/** Pages for each worker to draw and compare: the code that they run is compiled by then. */
const ROUNDS = 20;
/** Pages for each worker to describe. */
const DESCRIBED = 80;
/** The service checks by what is known as often as this, beside the first rounds: longer, it would hold up its loop for nothing. */
const OWN_ROUNDS = 2;
/** Whoever has done so many jobs is in practice. */
const ENOUGH_JOBS = 40;
const LOOK_MS = 50;
/** Bytes a second. What comes faster than over a line of a gigabit is there before anybody has practised. */
const FASTEST_LINE = 150e6;
/** Nothing is begun when all of it will be there so soon: it would wait for whoever is still practising. */
const SOON_S = 0.3;
/** A file of which nothing came in so long comes over a line on which a second is not noticed. */
const PATIENCE_MS = 20_000;

/**
 * Opens it. A worker that has just started takes four times as long for its first page. While a file comes in, its part's
 * dummy and the file before are there already: some of their pages are read and compared once more, the two are checked by
 * what is known of them, and what that shows is thrown away. Nothing is begun while there is other work, or once the file
 * has arrived.
 *
 * @param onTrouble  told of what is no refusal
 */
export function openPractice(
  archive: Pick<Archive, 'blobs' | 'catalogue' | 'arrivals'>,
  practising: Practising,
  onTrouble: (error: unknown) => void,
): Practice {
  const closing = new AbortController();
  let seen: Promise<void> | null = null;
  return {
    see(partId) {
      if (closing.signal.aborted) return;
      seen ??= practise(archive, practising, partId, closing.signal)
        .catch((error: unknown) => {
          if (!(error instanceof Refusal)) onTrouble(error);
        })
        .finally(() => (seen = null));
    },
    async close() {
      closing.abort();
      await seen;
    },
  };
}

async function practise(
  archive: Pick<Archive, 'blobs' | 'catalogue' | 'arrivals'>,
  practising: Practising,
  partId: string,
  signal: AbortSignal,
): Promise<void> {
  const { blobs, catalogue, arrivals } = archive;
  const { pool, limits } = practising;
  const dummy = await dummyToCompareWith(catalogue, partId);
  const before = dummy && (await fileBefore(catalogue, partId));
  if (!before) return;
  const kept = await openKeptFacts(practising.factsFolder, RASTER_RENDERER, practising.recentFacts);
  const pairs = await pairsOf(pool, kept, [dummy, before]);
  if (pairs.length === 0) return;
  await getWorkersReady(pool, limits);
  for (let waited = 0; !isSlow(arrivals.slowest()); waited += LOOK_MS) {
    if (signal.aborted || waited > PATIENCE_MS) return;
    await after(LOOK_MS);
  }
  const work = (job: DescribeJob | DrawAndCompareJob): Promise<unknown> =>
    // a page that goes wrong is told by the check that comes to it
    pool.run(job, { timeoutMs: limits.pageMs }).catch(() => undefined);
  await blobs.lendUnchecked(dummy.sha256, (dummyPath) =>
    blobs.lendUnchecked(before.sha256, async (path) => {
      // most likely it is as large as the one before
      const { size } = await stat(path);
      const isTime = (): boolean => {
        const coming = arrivals.slowest();
        return isSlow(coming) && size - coming.bytes > SOON_S * coming.bytesASecond;
      };
      const rounds: (DescribeJob | DrawAndCompareJob)[][] = [describeJobs(practising, pairs, path)];
      while (pairs.length > 0) {
        rounds.push(pairs.splice(0, pool.size).map((pair) => compareJob(practising, pair, [dummyPath, path])));
      }
      for (const [round, jobs] of rounds.entries()) {
        const { jobs: others, fewestDone } = pool.standing();
        if (!isTime() || signal.aborted || others > 0 || fewestDone >= ENOUGH_JOBS) return;
        const working = jobs.map(work);
        if (round < OWN_ROUNDS) await checkOnceMore(practising, kept, [dummy, before]);
        await Promise.all(working);
      }
    }),
  );
}

function isSlow(coming: Coming | null): coming is Coming {
  return coming !== null && coming.bytesASecond < FASTEST_LINE;
}

/** The latest file of a part that was held against its dummy page by page. */
async function fileBefore({ files }: Archive['catalogue'], partId: string): Promise<SentFile | null> {
  const sent = await files.ofPart(partId);
  return sent.findLast(({ kind, replaces, folding }) => kind !== 'dummy' && !replaces && !folding) ?? null;
}

interface PracticePair {
  readonly dummy: PageDescription;
  readonly revision: PageDescription;
}

/** Pages in the same place of both files, from all over the book; none where one of them was not read. */
async function pairsOf(
  pool: Practising['pool'],
  kept: KeptFacts,
  [dummy, before]: readonly [SentFile, SentFile],
): Promise<PracticePair[]> {
  const ofDummy = (await knownDescription(kept, dummy.sha256)) ?? [];
  const ofFile = (await knownDescription(kept, before.sha256)) ?? [];
  const both = ofDummy.flatMap((page, at) => {
    const other = ofFile[at];
    if (other === undefined || 'unreadable' in page || 'unreadable' in other) return [];
    return [{ dummy: page, revision: other }];
  });
  const wanted = ROUNDS * pool.size;
  return both.filter(
    (_, at) => Math.floor((at * wanted) / both.length) !== Math.floor(((at - 1) * wanted) / both.length),
  );
}

/** The first pages of the file before, as many for each worker. */
function describeJobs({ pool, limits }: Practising, pairs: readonly PracticePair[], path: string): DescribeJob[] {
  const last = pairs.at(-1)?.revision.pageNumber ?? 0;
  const each = Math.min(DESCRIBED, Math.ceil(last / pool.size));
  return Array.from({ length: pool.size }, (_, worker) => worker * each + 1)
    .filter((first) => first <= last)
    .map((first) => ({ do: 'describe', path, first, last: Math.min(last, first + each - 1), limits }));
}

function compareJob(
  { tolerances, limits }: Practising,
  { dummy, revision }: PracticePair,
  [dummyPath, path]: readonly [string, string],
): DrawAndCompareJob {
  return {
    do: 'draw-and-compare',
    dummy: { path: dummyPath, filePage: dummy.pageNumber, page: dummy },
    revision: { path, filePage: revision.pageNumber, page: revision },
    bookConversion: fitBookConversion([]),
    tolerances,
    limits,
  };
}
