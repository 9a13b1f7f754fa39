import type { ColourMap, PageComparison, Pairing } from '../comparing/index.ts';
import { fitBookConversion, learningPairs } from '../comparing/index.ts';
import type { Finding } from '../model/index.ts';
import type { Check, Covers, Drawn, Side } from './check-under-way.ts';
import { counter, rasterPathOf } from './check-under-way.ts';
import type { ComparedInPlace, LearnedConversion } from './compare-in-place.ts';
import { isToBeCompared, signaturesOf } from './compare-in-place.ts';
import { earlierConversions, saySame } from './earlier-conversions.ts';
import type { DrawnPair } from './first-look.ts';
import { renumbered } from './kept-comparison.ts';
import { isDrawn } from './known-page.ts';
import type { PageOnDisk } from './page-jobs.ts';
import { looksOf, runJob } from './read-file.ts';

/** That a page of either file could not be held against the other's. */
export function unreadable(file: Side, dummyPage: number | null, revisionPage: number | null, cause: string): Finding {
  const page = file === 'dummy' ? dummyPage : revisionPage;
  return {
    kind: 'page-unreadable',
    weight: 'stop',
    dummyPage,
    revisionPage,
    box: null,
    revisionBox: null,
    measured: { file, cause },
    says: `Page ${page} of the ${file} could not be compared: ${cause}.`,
  };
}

/** Compares the pairs that are not equal by their content, a page of the revision each. */
export async function comparePairs(
  check: Check,
  { pages, inPlace }: Drawn,
  pairing: Pairing,
  covers: Covers,
): Promise<ReadonlyMap<number, PageComparison>> {
  const { request } = check;
  const todo = pairing.pairs.flatMap((pair) => {
    const [dummy, revision] = [pages.dummy[pair.dummyPage - 1], pages.revision[pair.revisionPage - 1]];
    if (!isToBeCompared(pair) || !covers(pair)) return [];
    return isDrawn(dummy) && isDrawn(revision) ? [{ pair, dummy, revision }] : [];
  });
  // in the book's order, so that whoever watches reads of its first pages first
  todo.sort((one, other) => one.pair.revisionPage - other.pair.revisionPage);
  const conversions = await conversionsOf(check, todo, inPlace.learned);
  const count = counter(request, 'comparing');
  count.add(0, todo.length);
  const results = new Map<number, PageComparison>();
  await Promise.all(
    todo.map(async ({ pair, dummy, revision }) => {
      const early = pair.dummyPage === pair.revisionPage ? inPlace.compared.get(pair.revisionPage) : undefined;
      const comparison = await compareOne(check, { pair, dummy, revision }, conversions, early);
      results.set(pair.revisionPage, comparison);
      request.onFindings?.(comparison.findings);
      count.add(1, todo.length);
    }),
  );
  return results;
}

/** How the book's colours were converted. */
interface Conversions {
  /** What the pairs that are compared agree on. */
  readonly fresh: ColourMap;
  /** Learned in earlier checks, and the same but for a hair. */
  readonly earlier: readonly ColourMap[];
  /** Whether another one is the same but for a hair. */
  readonly isAlike: (other: ColourMap) => boolean;
}

/** @param learned  before the pages were paired; the same if it was from the same ones */
async function conversionsOf(
  { request, tools, files }: Check,
  pairs: readonly DrawnPair[],
  learned: LearnedConversion | null,
): Promise<Conversions> {
  const placed = pairs.map((pair) => ({ ...pair, revisionPage: pair.pair.revisionPage }));
  const from = learningPairs(placed).map(signaturesOf);
  const isLearned =
    from.length === learned?.from.length &&
    from.every(
      ({ dummy, revision }, at) => dummy === learned.from[at]!.dummy && revision === learned.from[at]!.revision,
    );
  const fresh = isLearned ? learned.conversion : fitBookConversion(from);
  const learnedOf = { dummy: files.dummy.identity.sha256, tolerances: request.tolerances };
  const signatures = pairs.map(({ dummy }) => dummy.signature);
  const known = new Map<ColourMap, boolean>();
  const isAlike = (other: ColourMap): boolean => {
    const alike = known.get(other) ?? saySame(other, fresh, signatures);
    known.set(other, alike);
    return alike;
  };
  return { fresh, earlier: await earlierConversions(tools.kept, learnedOf, fresh, signatures), isAlike };
}

/**
 * A comparison that was made before is taken where it was made by this very conversion; where by one that differs by a hair,
 * only if it found nothing: figures of findings never hang on what was checked before, or on what was compared first.
 *
 * @param early  made before the pages were paired
 */
async function compareOne(
  check: Check,
  drawn: DrawnPair,
  { fresh, earlier, isAlike }: Conversions,
  early: ComparedInPlace | undefined,
): Promise<PageComparison> {
  const { request, tools, files } = check;
  const { tolerances } = request;
  const { dummyPage, revisionPage } = drawn.pair;
  const looks = [looksOf(files.dummy, drawn.dummy), looksOf(files.revision, drawn.revision)];
  const { coarse = {} } = files.revision.sourceOf(revisionPage);
  const termsBy = (conversion: ColourMap) => [...looks, coarse, tolerances, [...conversion]];
  if (early !== undefined) {
    const { conversion, comparison } = early;
    const isSame = conversion.every((number, at) => number === fresh[at]);
    if (isSame || (comparison.findings.length === 0 && isAlike(conversion))) {
      await tools.kept.write('compared', termsBy(conversion), comparison);
      return comparison;
    }
  }
  for (const conversion of [fresh, ...earlier]) {
    const known = await tools.kept.read<PageComparison>('compared', termsBy(conversion));
    if (known === null || (conversion !== fresh && known.findings.length > 0)) continue;
    return renumbered(known, drawn.pair);
  }
  try {
    const comparison = await comparisonBy(check, drawn, fresh, false);
    await tools.kept.write('compared', termsBy(fresh), comparison);
    return comparison;
  } catch (error) {
    const cause = error instanceof Error ? error.message : String(error);
    return { findings: [unreadable('revision', dummyPage, revisionPage, cause)], colour: null, wantsFine: false };
  }
}

/** A pair compared by a worker. */
export function comparisonBy(
  check: Check,
  { pair, dummy, revision }: DrawnPair,
  bookConversion: ColourMap,
  isFirst: boolean,
): Promise<PageComparison> {
  const { request, tools, files } = check;
  const { tolerances, limits } = request;
  const onDisk = (side: Side, pageNumber: number): Omit<PageOnDisk, 'facts'> => {
    const { path, pageNumber: filePage, coarse = {} } = files[side].sourceOf(pageNumber);
    return { path, filePage, coarse, rasterPath: rasterPathOf(check, side, pageNumber) };
  };
  const pages = {
    dummy: { ...onDisk('dummy', pair.dummyPage), facts: dummy },
    revision: { ...onDisk('revision', pair.revisionPage), facts: revision },
  };
  return runJob(tools, { do: 'compare', ...pages, bookConversion, tolerances, limits }, 2, isFirst);
}
