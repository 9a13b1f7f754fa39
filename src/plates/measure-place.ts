import type { Box } from '../model/index.ts';
import { intersectBoxes } from '../model/index.ts';
import type { Grey } from './grey.ts';
import { halveGrey, pixelPart, softened, uprightPart } from './grey.ts';
import { layingOf } from './kernels/laying.ts';
import { bestOffset, worthMoving } from './lay-page.ts';
import { placeByType } from './place-by-type.ts';
import type { CellTurn } from './plan.ts';

/** A page is looked for this far around its place. */
const REACH_MM = 6;
/** Under this correlation it is not the page that was looked for, or nothing to go by. */
const LEAST_LIKENESS = 0.5;
/** Greys' standard deviation, under which a page is paper. */
const LEAST_SPREAD = 2;

/** A page and the sheet that it stands on. */
interface PlacedPage {
  readonly sheet: Grey;
  readonly page: Grey;
  readonly pictures: readonly Box[];
  readonly type: readonly Box[];
}

/** Where a page really lies on a sheet. */
export interface MeasuredPlace {
  readonly box: Box;
  readonly likeness: number;
}

/**
 * Measures where a page lies around its place on the sheet, to a few hundredths of a millimetre, from all that it shows.
 *
 * @param sheet  in greys, at the dummy page's resolution
 * @param page  the dummy's page in greys
 * @param pictures  windows of pictures on the page: what they show may have slipped in them, which is no matter of the
 * page's place, so it only counts where the rest of the page tells too little
 * @param type  boxes of the page's words: type in several places lies where its page does, whatever moved on it
 * @param around  where it should lie; of the trimmed size
 * @returns null where it is not found there or shows too little
 */
export function measurePlace(
  { sheet, page, pictures, type }: PlacedPage,
  around: Box,
  turnDeg: CellTurn,
): MeasuredPlace | null {
  if (spread(page, null) < LEAST_SPREAD) return null;
  const besides = spread(page, openPixels(page, pictures)) < LEAST_SPREAD ? [] : pictures;
  const { pxPerMm } = sheet;
  const wide = pixelPart(
    {
      x: around.x - REACH_MM,
      y: around.y - REACH_MM,
      width: around.width + 2 * REACH_MM,
      height: around.height + 2 * REACH_MM,
    },
    pxPerMm,
  );
  const field = uprightPart(sheet, wide, turnDeg);
  const [halfField, half] = [halveGrey(field), halveGrey(page)];
  const rough = layingOf(halfField, half, openPixels(half, besides), 2);
  if (rough === null) return null;
  const coarse = bestOffset(rough, null);
  const [softField, softPage] = [softened(softened(field)), softened(softened(page))];
  const fine = layingOf(softField, softPage, openPixels(softPage, besides), 1);
  if (fine === null) return null;
  const best = bestOffset(fine, { x: 2 * coarse.x, y: 2 * coarse.y, reach: 3 });
  if (best.likeness < LEAST_LIKENESS) return null;
  const { left, top } = wide;
  const [right, bottom] = [left + wide.width, top + wide.height];
  const { x: fromX, y: fromY } = { x: around.x * pxPerMm, y: around.y * pxPerMm };
  const [toX, toY] = [fromX + around.width * pxPerMm, fromY + around.height * pxPerMm];
  const planned = {
    0: { x: fromX - left, y: fromY - top },
    90: { x: fromY - top, y: right - toX },
    180: { x: right - toX, y: bottom - toY },
    270: { x: bottom - toY, y: fromX - left },
  }[turnDeg];
  if (!worthMoving(fine, planned, best)) return { likeness: best.likeness, box: around };
  const ownType = type.filter((box) => pictures.every((picture) => intersectBoxes(picture, box) === null));
  const { x, y } = placeByType(softField, softPage, ownType, { planned, measured: best, reachMm: REACH_MM }) ?? best;
  if (x === planned.x && y === planned.y) return { likeness: best.likeness, box: around };
  const corner = {
    0: [left + x, top + y],
    90: [right - y, top + x],
    180: [right - x, bottom - y],
    270: [left + y, bottom - x],
  }[turnDeg] as [number, number];
  const [cornerX, cornerY] = [corner[0] / pxPerMm, corner[1] / pxPerMm];
  const { width, height } = around;
  return {
    likeness: best.likeness,
    box: {
      x: turnDeg === 90 || turnDeg === 180 ? cornerX - width : cornerX,
      y: turnDeg === 180 || turnDeg === 270 ? cornerY - height : cornerY,
      width,
      height,
    },
  };
}

/** Frames of pictures tell where the page is: so much within them still counts. */
const FRAME_MM = 1;

/** Pixels that are not within a picture; null where there is none. */
function openPixels({ width, height, pxPerMm }: Grey, pictures: readonly Box[]): Uint8Array | null {
  if (pictures.length === 0) return null;
  const open = new Uint8Array(width * height).fill(1);
  for (const { x, y, width: wide, height: high } of pictures) {
    const [left, right] = [x + FRAME_MM, x + wide - FRAME_MM].map((mm) => Math.round(mm * pxPerMm)) as [number, number];
    const [top, bottom] = [y + FRAME_MM, y + high - FRAME_MM].map((mm) => Math.round(mm * pxPerMm)) as [number, number];
    for (let row = Math.max(0, top); row < Math.min(height, bottom); row++) {
      open.fill(0, row * width + Math.max(0, left), row * width + Math.max(0, Math.min(width, right)));
    }
  }
  return open;
}

function spread({ data }: Grey, open: Uint8Array | null): number {
  let [n, sum, square] = [0, 0, 0];
  for (let at = 0; at < data.length; at++) {
    if (open?.[at] === 0) continue;
    n += 1;
    sum += data[at]!;
    square += data[at]! ** 2;
  }
  const mean = sum / Math.max(1, n);
  return Math.sqrt(Math.max(0, square / Math.max(1, n) - mean * mean));
}
