import type { Box, Mm } from '../model/index.ts';
import type { Grey } from './grey.ts';
import { halveGrey } from './grey.ts';
import { layingOf } from './kernels/laying.ts';
import type { Offset } from './lay-page.ts';
import { bestOffset, worthMoving } from './lay-page.ts';

/** What counts around each word: the paper that it stands on tells where it ends. */
const MARGIN_MM = 1.5;
/** Type of one line only may have moved as any other thing; lines so far apart did so with their page. */
const APART_MM = 8;
/** Less alike, it is other type. */
const LEAST_LIKENESS = 0.6;
/** Around what half the pixels tell. */
const REACH_PX = 3;
/** Nearer than this, in pixels, the type lies with the rest of its page, which is measured more exactly. */
const WITH_THE_REST_PX = 0.5;

/**
 * Where a page's type lies on a sheet. A picture with its frame has more to hold on to than
 * all else on a page, and where it moved, the page has not.
 *
 * @param type  boxes of words that lie on no picture, mm on the page
 * @param planned  the page's place, in pixels of the field
 * @param measured  where the page as a whole was measured to lie
 * @param reachMm  how far around its planned place it is looked for
 * @returns null where the page has too little type, or the type says what the page as a whole does
 */
export function placeByType(
  field: Grey,
  page: Grey,
  type: readonly Box[],
  { planned, measured, reachMm }: { readonly planned: Point; readonly measured: Point; readonly reachMm: Mm },
): Offset | null {
  if (!isApart(type)) return null;
  const [halfField, half] = [halveGrey(field), halveGrey(page)];
  const rough = layingOf(halfField, half, around(half, type), 1);
  const fine = layingOf(field, page, around(page, type), 1);
  if (rough === null || fine === null) return null;
  const reach = Math.ceil(reachMm * half.pxPerMm);
  const coarse = bestOffset(rough, { x: planned.x / 2, y: planned.y / 2, reach });
  const best = bestOffset(fine, { x: 2 * coarse.x, y: 2 * coarse.y, reach: REACH_PX });
  if (best.likeness < LEAST_LIKENESS) return null;
  if (!worthMoving(fine, planned, best)) return { ...planned, likeness: best.likeness };
  return Math.hypot(best.x - measured.x, best.y - measured.y) < WITH_THE_REST_PX ? null : best;
}

type Point = Pick<Offset, 'x' | 'y'>;

/** Whether there is type in lines that lie apart. */
function isApart(type: readonly Box[]): boolean {
  const span = (from: (box: Box) => Mm, size: (box: Box) => Mm): Mm =>
    Math.max(...type.map((box) => from(box) + size(box))) - Math.min(...type.map(from));
  return (
    Math.min(
      span(
        (box) => box.x,
        (box) => box.width,
      ),
      span(
        (box) => box.y,
        (box) => box.height,
      ),
    ) >= APART_MM
  );
}

/** 1 where a pixel lies on a word or near one. */
function around({ width, height, pxPerMm }: Grey, type: readonly Box[]): Uint8Array {
  const open = new Uint8Array(width * height);
  for (const box of type) {
    const left = Math.max(0, Math.round((box.x - MARGIN_MM) * pxPerMm));
    const right = Math.min(width, Math.round((box.x + box.width + MARGIN_MM) * pxPerMm));
    const [top, bottom] = [box.y - MARGIN_MM, box.y + box.height + MARGIN_MM].map((mm) => Math.round(mm * pxPerMm));
    for (let y = Math.max(0, top!); y < Math.min(height, bottom!); y++) {
      if (right > left) open.fill(1, y * width + left, y * width + right);
    }
  }
  return open;
}
