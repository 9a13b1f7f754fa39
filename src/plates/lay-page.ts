import { correlationOf } from './correlation.ts';
import type { Grey } from './grey.ts';

/** A page as it is laid over the sheet. */
export interface Template extends Grey {
  /** 1 where a pixel counts; null where all do. */
  readonly open: Uint8Array | null;
}

/** The correlation at a place between pixels, from the four around it. */
function likenessAt(field: Grey, page: Template, { x, y }: { readonly x: number; readonly y: number }): number {
  const [left, top] = [Math.floor(x), Math.floor(y)];
  const [p, q] = [x - left, y - top];
  let sum = 0;
  for (const [dx, dy, weight] of [
    [0, 0, (1 - p) * (1 - q)],
    [1, 0, p * (1 - q)],
    [0, 1, (1 - p) * q],
    [1, 1, p * q],
  ] as const) {
    const column = Math.max(0, Math.min(field.width - page.width, left + dx));
    const row = Math.max(0, Math.min(field.height - page.height, top + dy));
    sum += weight * correlation(field, page, column, row, 1);
  }
  return sum;
}

/** Where the top left of a page lies in a field, in pixels of both. */
export interface Offset {
  readonly x: number;
  readonly y: number;
  readonly likeness: number;
}

/** What moving must leave over less of than staying where the page was planned: a page that hardly tells lies there. */
const WORTH_MOVING = 1.5;

/** Whether a page, or what counts of it, lies so much better elsewhere that it is not where it was planned. */
export function worthMoving(
  field: Grey,
  page: Template,
  planned: { readonly x: number; readonly y: number },
  best: Offset,
): boolean {
  return 1 - likenessAt(field, page, planned) >= WORTH_MOVING * (1 - best.likeness);
}

/** The offset of the page in the field with the best correlation, between pixels by a parabola through its neighbours. */
export function bestOffset(
  field: Grey,
  page: Template,
  near: { readonly x: number; readonly y: number; readonly reach: number } | null,
): Offset | null {
  const mostX = field.width - page.width;
  const mostY = field.height - page.height;
  if (mostX < 0 || mostY < 0) return null;
  const [fromX, toX] =
    near === null
      ? [0, mostX]
      : [Math.max(0, Math.round(near.x) - near.reach), Math.min(mostX, Math.round(near.x) + near.reach)];
  const [fromY, toY] =
    near === null
      ? [0, mostY]
      : [Math.max(0, Math.round(near.y) - near.reach), Math.min(mostY, Math.round(near.y) + near.reach)];
  const step = near === null ? 2 : 1;
  const known = new Map<number, number>();
  const at = (x: number, y: number): number => {
    const key = y * field.width + x;
    const before = known.get(key);
    if (before !== undefined) return before;
    const value = correlation(field, page, x, y, step);
    known.set(key, value);
    return value;
  };
  let best: Offset | null = null;
  for (let y = fromY; y <= toY; y++) {
    for (let x = fromX; x <= toX; x++) {
      const likeness = at(x, y);
      if (best === null || likeness > best.likeness) best = { x, y, likeness };
    }
  }
  if (best === null || near === null) return best;
  const { x, y, likeness } = best;
  return {
    x: x + (x > 0 && x < mostX ? vertex(at(x - 1, y), likeness, at(x + 1, y)) : 0),
    y: y + (y > 0 && y < mostY ? vertex(at(x, y - 1), likeness, at(x, y + 1)) : 0),
    likeness,
  };
}

/** Where a parabola through three values at -1, 0 and 1 has its top. */
function vertex(before: number, here: number, after: number): number {
  const bend = before - 2 * here + after;
  return bend < 0 ? Math.max(-0.5, Math.min(0.5, (before - after) / (2 * bend))) : 0;
}

/** Pearson's, over every `step`-th pixel of both ways. @source Pearson 1895 (test/standards/correlation has it of the twin in comparing) */
function correlation(field: Grey, page: Template, left: number, top: number, step: number): number {
  const { data: a, open } = page;
  const b = field.data;
  let [n, sumA, sumB, sumAA, sumBB, sumAB] = [0, 0, 0, 0, 0, 0];
  for (let y = 0; y < page.height; y += step) {
    const rowA = y * page.width;
    const rowB = (top + y) * field.width + left;
    for (let x = 0; x < page.width; x += step) {
      if (open !== null && open[rowA + x] === 0) continue;
      n += 1;
      const p = a[rowA + x]!;
      const q = b[rowB + x]!;
      sumA += p;
      sumB += q;
      sumAA += p * p;
      sumBB += q * q;
      sumAB += p * q;
    }
  }
  return correlationOf({ n, a: sumA, b: sumB, aa: sumAA, bb: sumBB, ab: sumAB });
}
