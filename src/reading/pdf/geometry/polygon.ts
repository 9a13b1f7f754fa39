import type { Box, Matrix, PagePoint } from '../../../model/index.ts';
import { transformPoint } from './matrix.ts';

/** Corners in order; closed from the last to the first. */
export type Polygon = readonly PagePoint[];

/** A rectangle, given by two corners, as a matrix places it. */
export function placedRectangle(matrix: Matrix, x0: number, y0: number, x1: number, y1: number): Polygon {
  return [
    transformPoint(matrix, x0, y0),
    transformPoint(matrix, x1, y0),
    transformPoint(matrix, x1, y1),
    transformPoint(matrix, x0, y1),
  ];
}

/** The smallest upright box around points, or null where there are none or they enclose no area. */
export function boundingBox(points: readonly PagePoint[]): Box | null {
  let left = Infinity;
  let top = Infinity;
  let right = -Infinity;
  let bottom = -Infinity;
  for (const { x, y } of points) {
    if (x < left) left = x;
    if (x > right) right = x;
    if (y < top) top = y;
    if (y > bottom) bottom = y;
  }
  return right > left && bottom > top ? { x: left, y: top, width: right - left, height: bottom - top } : null;
}

/** Area with a sign: positive where the corners run clockwise as the page is looked at. */
export function signedArea(polygon: Polygon): number {
  let twice = 0;
  for (let index = 0; index < polygon.length; index += 1) {
    const p = polygon[index]!;
    const q = polygon[(index + 1) % polygon.length]!;
    twice += p.x * q.y - q.x * p.y;
  }
  return twice / 2;
}

/** Whether a polygon turns one way only, once around. */
export function isConvex(polygon: Polygon): boolean {
  let sign = 0;
  let turned = 0;
  const corners = polygon.filter((p, i) => !isSamePoint(p, polygon[(i + 1) % polygon.length]!));
  for (let index = 0; index < corners.length; index += 1) {
    const p = corners[index]!;
    const q = corners[(index + 1) % corners.length]!;
    const r = corners[(index + 2) % corners.length]!;
    const ux = q.x - p.x;
    const uy = q.y - p.y;
    const vx = r.x - q.x;
    const vy = r.y - q.y;
    const cross = ux * vy - uy * vx;
    // Flattened curves turn by tiny steps; a turn back smaller than rounding is no dent.
    const negligible = 1e-9 * Math.hypot(ux, uy) * Math.hypot(vx, vy);
    if (Math.abs(cross) > negligible) {
      if (sign !== 0 && Math.sign(cross) !== sign) return false;
      sign = Math.sign(cross);
    }
    turned += Math.atan2(cross, ux * vx + uy * vy);
  }
  return sign !== 0 && Math.abs(Math.abs(turned) - 2 * Math.PI) < 0.01;
}

function isSamePoint(p: PagePoint, q: PagePoint): boolean {
  return p.x === q.x && p.y === q.y;
}

/**
 * What of a polygon lies inside a convex one. Of a subject with dents the pieces stay joined by edges along the border of
 * `convex`, which leaves its bounding box right unless such an edge goes around a corner (then it is too large).
 *
 * @source Sutherland and Hodgman, "Reentrant polygon clipping", Communications of the ACM 17 (1974), from memory
 */
export function clipByConvex(subject: Polygon, convex: Polygon): Polygon {
  const side = Math.sign(signedArea(convex));
  if (side === 0) return [];
  let kept: Polygon = subject;
  for (let index = 0; index < convex.length && kept.length > 0; index += 1) {
    kept = clipByLine(kept, convex[index]!, convex[(index + 1) % convex.length]!, side);
  }
  return kept;
}

function clipByLine(subject: Polygon, from: PagePoint, to: PagePoint, side: number): Polygon {
  const dx = (to.x - from.x) * side;
  const dy = (to.y - from.y) * side;
  if (dx === 0 && dy === 0) return subject;
  const inside = (p: PagePoint): number => dx * (p.y - from.y) - dy * (p.x - from.x);
  const kept: PagePoint[] = [];
  let previous = subject[subject.length - 1]!;
  let before = inside(previous);
  for (const point of subject) {
    const here = inside(point);
    if (before >= 0 !== here >= 0) {
      const t = before / (before - here);
      kept.push({ x: previous.x + t * (point.x - previous.x), y: previous.y + t * (point.y - previous.y) });
    }
    if (here >= 0) kept.push(point);
    previous = point;
    before = here;
  }
  return kept;
}
