import type { Box, Finding, Tolerances } from '../../model/index.ts';
import { intersectBoxes } from '../../model/index.ts';
import type { PageSide } from '../page-sides.ts';
import { growBox } from '../regions/cover.ts';
import { lookAlike } from './look-alike.ts';
import type { WordPair } from './match-words.ts';
import { inReadingOrder } from './reading-order.ts';
import type { AboutPages } from './text-findings.ts';
import { sayLooksDifferent } from './text-findings.ts';
import type { WordCluster } from './word-clusters.ts';
import { boxAround, clusterWords } from './word-clusters.ts';
import { isDrawnAlike } from './word-ink.ts';

/** A renamed font with the same shapes correlates above this; another cut of the same family does not. */
const RENAMED = 0.95;
/** With the same font on both sides only something gross counts: a missing font, a stroke through the line. */
const SAME_FONT = 0.72;
const SIZE_STEP = 0.03;
/** Letters reach a part of a pixel out of their box, and a rule may run along its edge. */
const RIM_MM = 0.3;

/** How pairs of words look. */
export interface PairLooks {
  readonly findings: readonly Finding[];
  /** Pairs that the findings tell of. */
  readonly told: readonly WordPair[];
  /** Pairs of the same shapes, away from pictures, of which some pixels differ. */
  readonly redrawn: readonly WordPair[];
}

/**
 * Words that read the same at the same place but look different: another font, another size, letters lost in drawing.
 * Fonts are judged together over a page, so that one short word does not decide.
 */
export function findOtherLooks(
  pairs: readonly WordPair[],
  { dummy, revision }: { readonly dummy: PageSide; readonly revision: PageSide },
  about: AboutPages,
  pictureBoxes: readonly Box[],
  tolerances: Tolerances,
): PairLooks {
  const rasters = { dummy: dummy.raster, revision: revision.raster };
  const groups = new Map<string, { how: string; limit: number; likes: number[]; pairs: WordPair[] }>();
  const open = pairs.filter(({ dummy: { box } }) => !pictureBoxes.some((each) => intersectBoxes(each, box) !== null));
  const equal = new Set(open.filter(({ dummy: { box } }) => isDrawnAlike(rasters, growBox(box, RIM_MM))));
  for (const pair of open) {
    const like = equal.has(pair) ? 1 : lookAlike(rasters, pair.dummy.box, shiftOf(pair));
    const { how, limit } = expectLook(pair);
    if (limit === SAME_FONT && like >= SAME_FONT) continue;
    const group = groups.get(how) ?? { how, limit, likes: [], pairs: [] };
    group.likes.push(like);
    group.pairs.push(pair);
    groups.set(how, group);
  }
  const findings: Finding[] = [];
  const told = new Set<WordPair>();
  for (const group of groups.values()) {
    const mean = group.likes.reduce((sum, like) => sum + like, 0) / group.likes.length;
    if (mean >= group.limit) continue;
    for (const pair of group.pairs) told.add(pair);
    for (const { dummy: before, revision: after } of wordPlaces(group.pairs)) {
      const size = boxAround(before)!;
      if (size.width * size.height < tolerances.artworkMm2) continue;
      findings.push(sayLooksDifferent(about, before, after, group.how));
    }
  }
  return { findings, told: [...told], redrawn: open.filter((pair) => !told.has(pair) && !equal.has(pair)) };
}

/**
 * Pairs the words of a place that were carried along by another size or another font of their line: they are no words that
 * moved, but part of the other look.
 *
 * @returns none where the place tells something else
 */
export function pairReset(
  { dummy, revision }: WordCluster,
  sides: { readonly dummy: PageSide; readonly revision: PageSide },
  pictureBoxes: readonly Box[],
): readonly WordPair[] {
  if (dummy.length === 0 || dummy.length !== revision.length) return [];
  const after = inReadingOrder(revision);
  const pairs = inReadingOrder(dummy).map((word, at) => ({ dummy: word, revision: after[at]! }));
  const isReset = pairs.every(
    (pair) =>
      pair.dummy.text === pair.revision.text &&
      expectLook(pair).limit === RENAMED &&
      !pictureBoxes.some((picture) => intersectBoxes(picture, pair.dummy.box) !== null),
  );
  if (!isReset) return [];
  const rasters = { dummy: sides.dummy.raster, revision: sides.revision.raster };
  const likes = pairs.map((pair) => lookAlike(rasters, pair.dummy.box, shiftOf(pair)));
  return likes.reduce((sum, like) => sum + like, 0) / likes.length < RENAMED ? pairs : [];
}

function shiftOf({ dummy, revision }: WordPair): { readonly xMm: number; readonly yMm: number } {
  return { xMm: revision.origin.x - dummy.origin.x, yMm: revision.origin.y - dummy.origin.y };
}

function expectLook({ dummy, revision }: WordPair): { readonly how: string; readonly limit: number } {
  if (Math.abs(revision.sizePt / dummy.sizePt - 1) > SIZE_STEP) {
    return { how: `${dummy.sizePt.toFixed(1)} pt became ${revision.sizePt.toFixed(1)} pt`, limit: RENAMED };
  }
  if (dummy.font !== revision.font) return { how: `${dummy.font} became ${revision.font}`, limit: RENAMED };
  return { how: 'its shapes', limit: SAME_FONT };
}

/** Pairs gathered into the places where they stand, their words in reading order. */
export function wordPlaces(pairs: readonly WordPair[]): readonly WordCluster[] {
  const partner = new Map(pairs.map(({ dummy, revision }) => [dummy, revision]));
  const words = pairs.map(({ dummy }) => dummy);
  return clusterWords(words, []).map((cluster) => {
    const dummy = inReadingOrder(cluster.dummy);
    return { dummy, revision: dummy.map((word) => partner.get(word)!) };
  });
}
