import type { Box, PageRaster, Tolerances } from '../../model/index.ts';
import { mmFromPx, pxFromMm } from '../../model/index.ts';
import { registerPicture } from '../registration/register.ts';
import type { Registration } from '../registration/register.ts';
import type { Similarity } from '../registration/similarity.ts';
import { recentre, rescaleSimilarity, standingStill } from '../registration/similarity.ts';
import { comparePlacements } from './placement.ts';
import type { VisiblePicture } from './visible-window.ts';
import { pixelsWithin } from './visible-window.ts';
import type { PageSide } from '../page-sides.ts';
import { uncovered } from '../regions/cover.ts';

/** A registered picture pair, in mm about the centre of the dummy's window. */
export interface RegisteredPair {
  readonly map: Similarity;
  readonly likeness: number;
  readonly uncertaintyXmm: number;
  readonly uncertaintyYmm: number;
  readonly scaleUncertainty: number;
  readonly turnUncertaintyDeg: number;
  readonly decidedBy: 'pixels' | 'placement';
}

/** Claims are made beyond so many standard deviations. */
const SURE = 3;
/** A movement must leave so much less unexplained than standing still does. */
const WORTH_A_CLAIM = 1.06;
/** What remains of systematic error (interpolation, exporters' rounding to whole pixels of the dummy). */
const FLOOR_PX = 0.08;
/** Coarser than this the pixels do not decide on a crop. */
const FINE_ENOUGH = 0.75;

/** Windows with a shorter side than this at half resolution are registered at the full one at once. */
const LARGE_CELLS = 80;
/** At half resolution this is exact enough, and four times as fast. */
const EXACT_MM = 0.12;

/**
 * Registers a picture pair: the pixels decide; where they are too soft, too dark or too even to be measured to the
 * tolerance, and both files place the same frame, the placements do.
 *
 * @param covers  what lies over the picture on either page, mm
 */
export function registerPair(
  dummy: { readonly seen: VisiblePicture; readonly side: PageSide },
  revision: { readonly seen: VisiblePicture; readonly side: PageSide },
  covers: readonly Box[],
  tolerances: Tolerances,
): RegisteredPair | null {
  const window = dummy.seen.window;
  const centre = { x: window.x + window.width / 2, y: window.y + window.height / 2 };
  const placed = comparePlacements(dummy.seen.picture, revision.seen.picture, centre);
  const registerAt = (one: PageRaster, other: PageRaster): RegisteredPair | null => {
    const dummyWindow = pixelsWithin(window, one, 1);
    const found = registerPicture({
      dummy: one,
      revision: other,
      dummyWindow,
      revisionWindow: pixelsWithin(revision.seen.window, other, 1),
      mask: covers.length === 0 ? null : uncovered(dummyWindow, one.ppi, covers),
      hints: placed === null ? [] : [rescaleSimilarity(placed, pxFromMm(1, one.ppi))],
    });
    return found === null ? null : inMm(found, window, one.ppi);
  };
  const { raster } = dummy.side;
  const shortest = pxFromMm(Math.min(window.width, window.height), raster.ppi / 2);
  const rough = shortest >= LARGE_CELLS ? registerAt(dummy.side.half(), revision.side.half()) : null;
  const measured = rough !== null && isExact(rough) ? rough : registerAt(raster, revision.side.raster);
  if (measured === null) return null;
  const soft = Math.max(measured.uncertaintyXmm, measured.uncertaintyYmm) > FINE_ENOUGH * tolerances.cropMm;
  if (!soft || placed === null) return measured;
  return mayDecide(placed, measured) ? decideByPlacement(placed, measured, tolerances) : measured;
}

function isExact({ likeness, uncertaintyXmm, uncertaintyYmm }: RegisteredPair): boolean {
  return likeness > 0.8 && Math.max(uncertaintyXmm, uncertaintyYmm) < EXACT_MM;
}

function inMm(found: Registration, window: Box, ppi: number): RegisteredPair {
  const map = recentre(
    rescaleSimilarity(found.map, mmFromPx(1, ppi)),
    window.x + window.width / 2,
    window.y + window.height / 2,
  );
  return {
    // where moving explains hardly more than standing still, what was found is the shape of the noise
    map: found.gain < WORTH_A_CLAIM ? standingStill(map.centreX, map.centreY) : map,
    likeness: found.likeness,
    uncertaintyXmm: mmFromPx(SURE * Math.sqrt(found.varXX) + FLOOR_PX, ppi),
    uncertaintyYmm: mmFromPx(SURE * Math.sqrt(found.varYY) + FLOOR_PX, ppi),
    scaleUncertainty: SURE * found.scaleDeviation + 0.0008,
    turnUncertaintyDeg: (SURE * found.turnDeviation * 180) / Math.PI + 0.05,
    decidedBy: 'pixels',
  };
}

/** The placements must not contradict what the pixels do see. */
function mayDecide(placed: Similarity, measured: RegisteredPair): boolean {
  return (
    Math.abs(placed.shiftX - measured.map.shiftX) <= measured.uncertaintyXmm * 1.3 + 0.1 &&
    Math.abs(placed.shiftY - measured.map.shiftY) <= measured.uncertaintyYmm * 1.3 + 0.1 &&
    Math.abs(placed.scale - measured.map.scale) <= measured.scaleUncertainty * 1.3 + 0.004
  );
}

/** What a placement tells is as exact as an exporter's rounding. */
const PLACEMENT_MM = 0.1;

/** Along each axis the better witness: a horizon in fog fixes up and down, not left and right. */
function decideByPlacement(placed: Similarity, measured: RegisteredPair, tolerances: Tolerances): RegisteredPair {
  const fine = FINE_ENOUGH * tolerances.cropMm;
  const softX = measured.uncertaintyXmm > fine;
  const softY = measured.uncertaintyYmm > fine;
  const softScale = measured.scaleUncertainty > tolerances.scalePercent / 100;
  return {
    likeness: measured.likeness,
    decidedBy: 'placement',
    uncertaintyXmm: softX ? PLACEMENT_MM : measured.uncertaintyXmm,
    uncertaintyYmm: softY ? PLACEMENT_MM : measured.uncertaintyYmm,
    scaleUncertainty: softScale ? 0.001 : measured.scaleUncertainty,
    turnUncertaintyDeg: 0.05,
    map: {
      ...measured.map,
      shiftX: softX ? placed.shiftX : measured.map.shiftX,
      shiftY: softY ? placed.shiftY : measured.map.shiftY,
      scale: softScale ? placed.scale : measured.map.scale,
      turnRad: placed.turnRad,
      mirrored: placed.mirrored,
    },
  };
}
