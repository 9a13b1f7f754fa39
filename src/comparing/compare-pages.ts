import type { Box, CoarseScreens, Finding, PageFacts, PageRaster, Tolerances } from '../model/index.ts';
import { intersectBoxes } from '../model/index.ts';
import { compareArtwork } from './artwork.ts';
import type { ColourMap } from './conversion/colour-map.ts';
import { isFlattened } from './flattened-page.ts';
import { judgeSeenPictures, withoutReached } from './judge-flattened.ts';
import type { PageSide } from './page-sides.ts';
import { preparePage } from './page-sides.ts';
import { picturesThatCameIn } from './pictures/came-in.ts';
import { isOther, judgePicture } from './pictures/judge-picture.ts';
import type { PictureJudgement } from './pictures/judge-picture.ts';
import { matchPictures } from './pictures/match-pictures.ts';
import { pictureAdded, pictureMissing } from './pictures/picture-came-or-went.ts';
import type { VisiblePicture } from './pictures/visible-window.ts';
import { growBox } from './regions/cover.ts';
import { softenRaster } from './soften-raster.ts';
import { shrinkRaster } from './shrink-raster.ts';
import type { FineRasters } from './text/judge-shapes.ts';
import { compareText } from './text/compare-text.ts';
import { LEAST_PLATE_INK_PX } from './text/ink-difference.ts';
import { resizedPage } from './resized-page.ts';

/** A page as it was read, with its raster at the analysis resolution. */
export interface DrawnFacts {
  readonly facts: PageFacts;
  readonly raster: PageRaster;
}

/** Two pages that were paired, and what is known of the whole book. */
export interface PageTask {
  readonly dummy: DrawnFacts;
  readonly revision: DrawnFacts;
  /** Both pages at the fine resolution, where a first comparison asked for them. */
  readonly fine: FineRasters;
  readonly bookConversion: ColourMap;
  /** How the revision is screened, where it comes from plates. */
  readonly coarse?: CoarseScreens;
}

/** What differs on a page. */
export interface PageComparison {
  readonly findings: readonly Finding[];
  /** Colour differences of the registered pictures, weighted by area; null where no picture was compared. */
  readonly colour: { readonly meanDeltaE00: number; readonly worstDeltaE00: number } | null;
  /** Compare again with fine rasters: there is type that only its shapes can judge. */
  readonly wantsFine: boolean;
}

/** Explained places are a little larger than their boxes, for the soft rim that drawing gives them. */
const RIM_MM = 0.35;

/**
 * Compares two paired pages: size, pictures, text and the rest, each difference told once by the most telling kind.
 *
 * @returns findings in the order pictures, text, artwork
 */
export function comparePages(task: PageTask, tolerances: Tolerances): PageComparison {
  const resized = resizedPage(task.dummy.facts, task.revision.facts, tolerances);
  if (resized !== null) return { findings: [resized], colour: null, wantsFine: false };
  const plain = { dummy: preparePage(task.dummy), revision: preparePage(task.revision) };
  const flattened = isFlattened(plain.dummy, plain.revision);
  if (flattened && task.fine === null) return { findings: [], colour: null, wantsFine: true };
  const sides = flattened ? flattenedSides(task) : plain;
  const pictures = comparePictures(sides, task.bookConversion, tolerances, flattened);
  const boxes = [...sides.dummy.pictures.map(({ window }) => window), ...pictures.windows];
  const fine = flattened ? platesInk(task) : task.fine;
  const rims = (of: readonly Box[]): Box[] => of.map((box) => growBox(box, RIM_MM));
  const cameIn = flattened ? picturesThatCameIn(sides, rims(boxes), task.bookConversion, tolerances) : [];
  const readable = flattened ? withoutReached(sides, [...pictures.windows, ...cameIn]) : sides;
  const text = compareText(readable, fine, boxes, tolerances, task.bookConversion);
  const explained = [...rims([...boxes, ...cameIn]), ...text.judged];
  const artwork = compareArtwork(sides, explained, task.bookConversion, tolerances);
  const added = cameIn.map((window) => pictureAdded({ window }, sides));
  return {
    findings: [...pictures.findings, ...added, ...text.findings, ...artwork],
    colour: pictures.colour,
    wantsFine: text.wantsFine,
  };
}

/** Both pages drawn finely first, with the dummy's pictures in the dummy's places. */
function flattenedSides({ dummy, revision, fine }: PageTask): Sides {
  const one = preparePage({ facts: dummy.facts, raster: shrinkRaster(fine!.dummy, dummy.raster) });
  const other = preparePage({ facts: revision.facts, raster: shrinkRaster(fine!.revision, revision.raster) });
  return { dummy: one, revision: { ...other, pictures: one.pictures } };
}

/** Fine rasters with what type from plates is judged by: the dummy as soft as plates are, and how they are screened. */
function platesInk({ fine, coarse = {} }: PageTask): FineRasters {
  return fine && { ...fine, dummy: softenRaster(fine.dummy), leastInkPx: LEAST_PLATE_INK_PX, coarse };
}

interface Sides {
  readonly dummy: PageSide;
  readonly revision: PageSide;
}

interface PictureComparison {
  readonly findings: readonly Finding[];
  /** Where the pictures lie on the revision's page. */
  readonly windows: readonly Box[];
  readonly colour: PageComparison['colour'];
}

function comparePictures(
  sides: Sides,
  bookConversion: ColourMap,
  tolerances: Tolerances,
  flattened: boolean,
): PictureComparison {
  const { dummy, revision } = sides;
  const judge = (dummyPicture: VisiblePicture, revisionPicture: VisiblePicture): PictureJudgement => {
    const covers = coversOf(dummyPicture, revisionPicture, sides);
    return judgePicture({ dummy, revision, dummyPicture, revisionPicture, covers, bookConversion }, tolerances);
  };
  if (flattened) {
    const seen = judgeSeenPictures(sides, judge);
    const windows = seen.flatMap(({ window }) => window ?? []);
    return { findings: seen.flatMap(({ findings }) => findings), windows, colour: meanColour(seen) };
  }
  const match = matchPictures(dummy, revision);
  const judgements = match.pairs.map((pair) => judge(pair.dummy, pair.revision));
  // a picture that one file does not tell may still be seen, drawn in another way: the pixels decide
  for (const missing of match.missing) {
    const seen = judge(missing, missing);
    judgements.push(isOther(seen) ? { findings: [pictureMissing(missing, sides)], colour: null, map: null } : seen);
  }
  for (const added of match.added) {
    const seen = judge(added, added);
    judgements.push(isOther(seen) ? { findings: [pictureAdded(added, sides)], colour: null, map: null } : seen);
  }
  return {
    findings: judgements.flatMap(({ findings }) => findings),
    windows: revision.pictures.map(({ window }) => window),
    colour: meanColour(judgements),
  };
}

const TYPE_MARGIN_MM = 0.4;

/** What lies over a picture on either page: type, and pictures drawn after it. */
function coversOf(
  dummyPicture: VisiblePicture,
  revisionPicture: VisiblePicture,
  { dummy, revision }: Sides,
): readonly Box[] {
  const words = [...dummy.facts.words, ...revision.facts.words].map(({ box }) => growBox(box, TYPE_MARGIN_MM));
  const above = (own: VisiblePicture, all: readonly VisiblePicture[]): Box[] =>
    all.filter(({ picture }) => picture.index > own.picture.index && !picture.softMasked).map(({ window }) => window);
  const boxes = [...words, ...above(dummyPicture, dummy.pictures), ...above(revisionPicture, revision.pictures)];
  return boxes.filter((box) => intersectBoxes(box, dummyPicture.window) !== null);
}

function meanColour(judgements: readonly Pick<PictureJudgement, 'colour'>[]): PageComparison['colour'] {
  const measured = judgements.flatMap(({ colour }) => (colour === null ? [] : [colour]));
  const area = measured.reduce((sum, { areaMm2 }) => sum + areaMm2, 0);
  if (area === 0) return null;
  return {
    meanDeltaE00: measured.reduce((sum, { meanDeltaE00, areaMm2 }) => sum + meanDeltaE00 * areaMm2, 0) / area,
    worstDeltaE00: Math.max(...measured.map(({ worstDeltaE00 }) => worstDeltaE00)),
  };
}
