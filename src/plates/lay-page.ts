import { correlationOf } from './correlation.ts';
import type { Laying } from './kernels/laying.ts';

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
  laying: Laying,
  planned: { readonly x: number; readonly y: number },
  best: Offset,
): boolean {
  return 1 - likenessAt(laying, planned) >= WORTH_MOVING * (1 - best.likeness);
}

/** The offset of the page in the field with the best correlation, near a place between pixels by a parabola through its neighbours. */
export function bestOffset(
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
