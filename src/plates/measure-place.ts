import type { Box } from '../model/index.ts';
import { correlationOf } from './correlation.ts';
import type { Grey } from './grey.ts';
import { halveGrey, pixelPart, softened, uprightPart } from './grey.ts';
import { layingOf } from './kernels/laying.ts';
import type { Laying } from './kernels/laying.ts';
import type { CellTurn } from './plan.ts';

/** A page is looked for this far around its place. */
const REACH_MM = 6;
/** Under this correlation it is not the page that was looked for, or nothing to go by. */
const LEAST_LIKENESS = 0.5;
/** What moving must leave over less of than staying where the page was planned: a page that hardly tells lies there. */
const WORTH_MOVING = 1.5;
/** Greys' standard deviation, under which a page is paper. */
const LEAST_SPREAD = 2;

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
 * @param around  where it should lie; of the trimmed size
 * @returns null where it is not found there or shows too little
 */
export function measurePlace(
  { sheet, page, pictures }: { readonly sheet: Grey; readonly page: Grey; readonly pictures: readonly Box[] },
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
  const softPage = softened(softened(page));
  const fine = layingOf(softened(softened(field)), softPage, openPixels(softPage, besides), 1);
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
  if (1 - likenessAt(fine, planned) < WORTH_MOVING * (1 - best.likeness)) {
    return { likeness: best.likeness, box: around };
  }
  const { x, y } = best;
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

/** The correlation at a place between pixels, from the four around it. */
function likenessAt(laying: Laying, { x, y }: { readonly x: number; readonly y: number }): number {
  const [left, top] = [Math.floor(x), Math.floor(y)];
  const [p, q] = [x - left, y - top];
  let sum = 0;
  for (const [dx, dy, weight] of [
    [0, 0, (1 - p) * (1 - q)],
    [1, 0, p * (1 - q)],
    [0, 1, (1 - p) * q],
    [1, 1, p * q],
  ] as const) {
    const column = Math.max(0, Math.min(laying.mostX, left + dx));
    const row = Math.max(0, Math.min(laying.mostY, top + dy));
    sum += weight * correlationOf(laying.sumsAt(column, row));
  }
  return sum;
}

interface Offset {
  readonly x: number;
  readonly y: number;
  readonly likeness: number;
}

/** The offset of the page in the field with the best correlation, near a place between pixels by a parabola through its neighbours. */
function bestOffset(
  { mostX, mostY, sumsAt }: Laying,
  near: { readonly x: number; readonly y: number; readonly reach: number } | null,
): Offset {
  const [fromX, toX] = near === null ? [0, mostX] : within(near.x, near.reach, mostX);
  const [fromY, toY] = near === null ? [0, mostY] : within(near.y, near.reach, mostY);
  const at = (x: number, y: number): number => correlationOf(sumsAt(x, y));
  let best: Offset = { x: fromX, y: fromY, likeness: at(fromX, fromY) };
  for (let y = fromY; y <= toY; y++) {
    for (let x = fromX; x <= toX; x++) {
      const likeness = at(x, y);
      if (likeness > best.likeness) best = { x, y, likeness };
    }
  }
  if (near === null) return best;
  const { x, y, likeness } = best;
  return {
    x: x + (x > 0 && x < mostX ? vertex(at(x - 1, y), likeness, at(x + 1, y)) : 0),
    y: y + (y > 0 && y < mostY ? vertex(at(x, y - 1), likeness, at(x, y + 1)) : 0),
    likeness,
  };
}

/** From which whole pixel to which. */
function within(middle: number, reach: number, most: number): readonly [number, number] {
  const whole = Math.round(middle);
  return [Math.min(most, Math.max(0, whole - reach)), Math.min(most, whole + reach)];
}

/** Where a parabola through three values at -1, 0 and 1 has its top. */
function vertex(before: number, here: number, after: number): number {
  const bend = before - 2 * here + after;
  return bend < 0 ? Math.max(-0.5, Math.min(0.5, (before - after) / (2 * bend))) : 0;
}
