import type { Box, CoarseScreens, PageRaster, Tolerances, Word } from '../../model/index.ts';
import { intersectBoxes, pxFromMm } from '../../model/index.ts';
import type { PageSide } from '../page-sides.ts';
import { growBox } from '../regions/cover.ts';
import { inkDiffers, LEAST_INK_PX } from './ink-difference.ts';
import { lookAlike } from './look-alike.ts';
import type { LineShift } from './moved-line.ts';
import { goneWithLines } from './gone-with-lines.ts';
import { changedThemselves } from './reached-words.ts';
import { isOnSameGround } from './same-ground.ts';
import { timesMoreInk } from './screened-type.ts';
import { tellingOf } from './telling-rasters.ts';
import { keepVisible } from './visible-words.ts';

/** Fine rasters of both pages, where they were drawn. */
export type FineRasters = {
  readonly dummy: PageRaster;
  readonly revision: PageRaster;
  /** How much ink must differ for another letter; as between letters and outlines where absent. */
  readonly leastInkPx?: number;
  /** How the revision is screened, where it comes from plates. */
  readonly coarse?: CoarseScreens;
} | null;

/** Words that only one of two pages tells. */
export interface LoneWords {
  readonly dummy: readonly Word[];
  readonly revision: readonly Word[];
  /** Words where the other file tells other words at the same place. */
  readonly dummyOpposed: readonly Word[];
  readonly revisionOpposed: readonly Word[];
}

/** Separates unmatched words that have nothing told against them (the other file may have outlines there) from the rest. */
export function findLoneWords(
  dummyOnly: readonly Word[],
  revisionOnly: readonly Word[],
  dummyAll: readonly Word[],
  revisionAll: readonly Word[],
): LoneWords {
  const opposed = (word: Word, others: readonly Word[]): boolean =>
    others.some((other) => sharesPlace(word.box, other.box));
  return {
    dummy: dummyOnly.filter((word) => !opposed(word, revisionAll)),
    revision: revisionOnly.filter((word) => !opposed(word, dummyAll)),
    dummyOpposed: dummyOnly.filter((word) => opposed(word, revisionAll)),
    revisionOpposed: revisionOnly.filter((word) => opposed(word, dummyAll)),
  };
}

function sharesPlace(one: Box, other: Box): boolean {
  const shared = intersectBoxes(one, other);
  return (
    shared !== null && shared.width * shared.height > 0.2 * Math.min(one.width * one.height, other.width * other.height)
  );
}

/** What became of words that only one page tells. */
export interface ShapeJudgement {
  /** Unmatched words that stay unexplained. */
  readonly dummy: readonly Word[];
  readonly revision: readonly Word[];
  readonly changed: { readonly dummy: readonly Word[]; readonly revision: readonly Word[] };
  /** Words, of either file, that both pages show in the same shapes. */
  readonly same: readonly Word[];
  readonly wantsFine: boolean;
}

/** Something of the word is there at all: between this and the same shapes lies a changed letter. */
export const STILL_THERE = 0.45;

/**
 * Judges words that only one page tells by what the other shows in their place.
 *
 * @param fine  where absent, what only they could settle is asked for by `wantsFine`
 * @param pictureBoxes  where pictures lie, on either page
 */
export function judgeShapes(
  lone: LoneWords,
  sides: { readonly dummy: PageSide; readonly revision: PageSide },
  fine: FineRasters,
  pictureBoxes: readonly Box[],
  tolerances: Tolerances,
): ShapeJudgement {
  const coarse = { dummy: sides.dummy.raster, revision: sides.revision.raster };
  const allWords = [...sides.dummy.facts.words, ...sides.revision.facts.words];
  const still = { xMm: 0, yMm: 0 };
  const gone: { dummy: Word[]; revision: Word[] } = { dummy: [], revision: [] };
  const changed: { dummy: Word[]; revision: Word[] } = { dummy: [], revision: [] };
  const same: Word[] = [];
  let wantsFine = false;
  for (const side of ['dummy', 'revision'] as const) {
    for (const word of lone[side]) {
      const box = growBox(word.box, tolerances.textPlaceMm / 2);
      const like = Math.max(
        ...[0, 1, -1].flatMap((x) =>
          [0, 1, -1].map((y) => lookAlike(coarse, word.box, { xMm: still.xMm + x * 0.2, yMm: still.yMm + y * 0.2 })),
        ),
      );
      const other = side === 'dummy' ? sides.revision : sides.dummy;
      if (like < STILL_THERE) (keepVisible([word], other).length > 0 ? changed : gone)[side].push(word);
      else if (pictureBoxes.some((picture) => intersectBoxes(picture, word.box) !== null)) {
        // another preparation of the picture is no change of the letters on it: only like ground lets them be judged finely
        if (like < 0.8) changed[side].push(word);
        else if (!isOnSameGround(fine ?? coarse, word.box, allWords)) continue;
        else if (fine === null) wantsFine = true;
        else if (hasOtherInk(fine, box)) changed[side].push(word);
      } else if (fine === null) {
        wantsFine = true;
      } else if (hasOtherInk(fine, box)) {
        changed[side].push(word);
      } else {
        same.push(word);
      }
    }
  }
  const settled = (
    side: 'dummy' | 'revision',
  ): { readonly changed: readonly Word[]; readonly gone: readonly Word[] } => {
    const themselves =
      fine === null
        ? changed[side]
        : changedThemselves(changed[side], tellingOf(coarse, side), tolerances.textPlaceMm, (place) =>
            hasOtherInk(fine, place),
          );
    const carried = goneWithLines(gone[side], themselves, sides[side].facts.words);
    return { changed: [...themselves, ...carried], gone: gone[side].filter((word) => !carried.has(word)) };
  };
  const [dummy, revision] = [settled('dummy'), settled('revision')];
  return {
    dummy: [...lone.dummyOpposed, ...dummy.gone],
    revision: [...lone.revisionOpposed, ...revision.gone],
    changed: { dummy: dummy.changed, revision: revision.changed },
    same,
    wantsFine,
  };
}

/**
 * Whether a place of the page that tells its words has other ink on the other page.
 *
 * @param shift  how far beside its place that page has it
 */
export function hasOtherInk(
  fine: NonNullable<FineRasters>,
  box: Box,
  side: 'dummy' | 'revision' = 'dummy',
  shift: LineShift = { xMm: 0, yMm: 0 },
): boolean {
  const { dummy, leastInkPx = LEAST_INK_PX, coarse = {} } = fine;
  const { telling, showing } = tellingOf(fine, side);
  const off = { x: Math.round(pxFromMm(shift.xMm, dummy.ppi)), y: Math.round(pxFromMm(shift.yMm, dummy.ppi)) };
  const least = leastInkPx * timesMoreInk(dummy, box, coarse);
  return inkDiffers({ dummy: telling, revision: showing }, box, least, off);
}
