import type { PageRaster } from '../../model/index.ts';
import type { PixelBox, Plane } from '../plane.ts';
import { clipPixelBox, halvePlane, lumaPlane, smoothPlane } from '../plane.ts';
import { searchCoarsely } from './coarse-search.ts';
import type { Refinement } from './refine.ts';
import { refineSimilarity } from './refine.ts';
import type { Similarity } from './similarity.ts';
import { recentre, rescaleSimilarity, standingStill } from './similarity.ts';

/** What is to be registered: a window on each page, at one resolution. */
export interface RegistrationTask {
  readonly dummy: PageRaster;
  readonly revision: PageRaster;
  readonly dummyWindow: PixelBox;
  readonly revisionWindow: PixelBox;
  /** As large as the dummy's window, 0 where a pixel must not speak; or null. */
  readonly mask: Uint8Array | null;
  /** Where the placements in the files say that the content went, in pixels; tried beside standing still. */
  readonly hints: readonly Similarity[];
}

/** Good enough that no wider search is worth its time. */
const PLAINLY_ALIKE = 0.96;
/** A far-fetched explanation must be better than a plain one by so much correlation. */
const WORTH_A_CHANGE = 0.02;
const SMALLEST_SIDE = 40;
const SEARCH_SIDE = 44;
/** A strip is not halved below half of this: two rows of pixels have no slope to go by. */
const THINNEST = 20;

/** A registration, and how much better it explains the revision than content that never moved. */
export interface Registration extends Refinement {
  /** What standing still leaves over what the registration leaves (mean squares); 1 where nothing is gained. */
  readonly gain: number;
}

/**
 * How the picture content in the dummy's window lies on the revision's page, from the pixels: shift, scale, turn and
 * mirroring, to a fraction of a pixel.
 *
 * @returns lengths in pixels of the rasters, about the centre of the dummy's window; null where nothing could be
 *          laid over the other
 */
export function registerPicture(task: RegistrationTask): Registration | null {
  const dummyBox = clipPixelBox(task.dummyWindow, task.dummy);
  const pyramid = buildPyramid(task, dummyBox);
  const top = pyramid.length - 1;
  const centreX = dummyBox.left + dummyBox.width / 2;
  const centreY = dummyBox.top + dummyBox.height / 2;
  const still = standingStill(centreX, centreY);
  const near = withoutTwins([still, windowToWindow(still, dummyBox, task.revisionWindow), ...task.hints]);
  let best = bestOf(pyramid[top]!, near, top);
  if (best === null || best.likeness < PLAINLY_ALIKE) {
    const wide = widerStarts(pyramid[top]!, near, top);
    const found = bestOf(pyramid[top]!, wide, top);
    if (found !== null && (best === null || found.likeness > best.likeness + WORTH_A_CHANGE)) best = found;
  }
  for (let level = top; level > 0 && best !== null;) {
    const next = best.likeness >= PLAINLY_ALIKE && errorAtRim(best, dummyBox, level) < NEAR_PX ? 0 : level - 1;
    best = refineSimilarity(pyramid[next]!, rescaleSimilarity(best.map, 2 ** (level - next)), pyramid[next]!.mask, 8);
    level = next;
  }
  const standing = refineSimilarity(pyramid[0]!, still, pyramid[0]!.mask, 0);
  if (best === null || standing === null) return best === null ? null : { ...best, gain: Infinity };
  if (standing.variance <= best.variance || standing.likeness > best.likeness + MUCH_LESS_LIKE) {
    return { ...standing, gain: 1 };
  }
  return { ...best, gain: (standing.variance + INVISIBLE) / (best.variance + INVISIBLE) };
}

/** So near, in pixels of the rasters, the finest level finds its way by itself, and those between are passed over. */
const NEAR_PX = 0.7;

/** Three standard deviations, in pixels of the rasters, of where a corner of the window lies. */
function errorAtRim(found: Refinement, { width, height }: PixelBox, level: number): number {
  const { varXX, varYY, scaleDeviation, turnDeviation } = found;
  const reach = Math.hypot(width, height) / 2;
  return 3 * (Math.sqrt(varXX + varYY) * 2 ** level + Math.hypot(scaleDeviation, turnDeviation) * reach);
}

/** What is static over a picture (a label) costs some likeness where the picture moved; so much only a wrong place costs. */
const MUCH_LESS_LIKE = 0.25;

/** Mean square, in levels, that nobody sees: gaining less is no gain. */
const INVISIBLE = 1;

interface Level {
  readonly dummy: Plane;
  readonly revision: Plane;
  readonly mask: Uint8Array | null;
}

/** Only what lies in the revision's window is its content: the paper around would speak for a wrong place. */
function buildPyramid(task: RegistrationTask, dummyBox: PixelBox): readonly Level[] {
  let dummy = smoothPlane(lumaPlane(task.dummy, dummyBox));
  let revision = smoothPlane(lumaPlane(task.revision, task.revisionWindow));
  let mask = task.mask;
  const levels: Level[] = [{ dummy, revision, mask }];
  while (
    Math.min(dummy.width, dummy.height) >= 2 * SMALLEST_SIDE ||
    (Math.max(dummy.width, dummy.height) > 160 && Math.min(dummy.width, dummy.height) >= THINNEST)
  ) {
    mask = mask === null ? null : halveMask(mask, dummy);
    dummy = halvePlane(dummy);
    revision = halvePlane(revision);
    levels.push({ dummy, revision, mask });
  }
  return levels;
}

function halveMask(mask: Uint8Array, { width, height }: Plane): Uint8Array {
  const halfWidth = Math.max(1, width >> 1);
  const halfHeight = Math.max(1, height >> 1);
  const out = new Uint8Array(halfWidth * halfHeight);
  const right = width > 1 ? 1 : 0;
  const below = height > 1 ? width : 0;
  for (let y = 0; y < halfHeight; y++) {
    for (let x = 0; x < halfWidth; x++) {
      const at = 2 * y * width + 2 * x;
      out[y * halfWidth + x] = mask[at]! & mask[at + right]! & mask[at + below]! & mask[at + below + right]!;
    }
  }
  return out;
}

/** Starts that lie so near each other lead to the same place; mostly all of them do, since most pictures never moved. */
const SAME_START_PX = 0.25;
const SAME_START_SCALE = 0.0005;

function withoutTwins(starts: readonly Similarity[]): readonly Similarity[] {
  return starts.filter(
    (start, index) =>
      !starts.slice(0, index).some((earlier) => {
        const [before, now] = [recentre(earlier, start.centreX, start.centreY), start];
        return (
          before.mirrored === now.mirrored &&
          Math.hypot(before.shiftX - now.shiftX, before.shiftY - now.shiftY) < SAME_START_PX &&
          Math.abs(before.scale - now.scale) < SAME_START_SCALE &&
          Math.abs(before.turnRad - now.turnRad) < SAME_START_SCALE
        );
      }),
  );
}

function windowToWindow(still: Similarity, dummyBox: PixelBox, revisionBox: PixelBox): Similarity {
  return {
    ...still,
    scale: Math.sqrt((revisionBox.width * revisionBox.height) / (dummyBox.width * dummyBox.height)),
    shiftX: revisionBox.left + revisionBox.width / 2 - still.centreX,
    shiftY: revisionBox.top + revisionBox.height / 2 - still.centreY,
  };
}

/** Starts are given in pixels of the rasters, the result in pixels of the level. */
function bestOf(level: Level, starts: readonly Similarity[], exponent: number): Refinement | null {
  let best: Refinement | null = null;
  for (const start of starts) {
    const refined = refineSimilarity(level, rescaleSimilarity(start, 2 ** -exponent), level.mask, 12);
    if (refined === null || refined.overlap < 0.5) continue;
    if (best === null || refined.likeness > best.likeness + 0.005) best = refined;
  }
  return best;
}

const SCALES = [0.72, 0.78, 0.84, 0.9, 0.95, 1, 1.05, 1.11, 1.19, 1.28, 1.38];
const TURNS_DEG = [-8, -5, -2.5, 0, 2.5, 5, 8];

/** The most promising of many scales, turns and mirrorings; in pixels of the rasters. */
function widerStarts(level: Level, near: readonly Similarity[], exponent: number): readonly Similarity[] {
  let factor = 2 ** -exponent;
  let { dummy, revision } = level;
  while (Math.max(dummy.width, dummy.height) > SEARCH_SIDE) {
    dummy = halvePlane(smoothPlane(dummy));
    revision = halvePlane(smoothPlane(revision));
    factor /= 2;
  }
  const starts: Similarity[] = [];
  for (const map of near.slice(0, 2)) {
    const base = rescaleSimilarity(map, factor);
    for (const mirrored of [false, true]) {
      for (const quarter of [0, 90, 180, 270]) {
        for (const scale of SCALES)
          starts.push({ ...base, mirrored, scale: base.scale * scale, turnRad: rad(quarter) });
      }
    }
    for (const turn of TURNS_DEG) {
      for (const scale of [0.95, 1, 1.06]) starts.push({ ...base, scale: base.scale * scale, turnRad: rad(turn) });
    }
  }
  const reach = Math.max(4, 0.2 * Math.max(dummy.width, dummy.height));
  const guesses = searchCoarsely({ dummy, revision }, starts, reach);
  return guesses.slice(0, 6).map(({ map }) => rescaleSimilarity(map, 1 / factor));
}

function rad(degrees: number): number {
  return (degrees * Math.PI) / 180;
}
