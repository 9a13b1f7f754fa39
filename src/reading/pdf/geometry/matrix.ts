import type { Matrix, PagePoint } from '../../../model/index.ts';

/** The map that changes nothing. */
export const IDENTITY: Matrix = [1, 0, 0, 1, 0, 0];

/** First `first`, then `second`. @source ISO 32000-2 8.3.4 */
export function concatenate(first: Matrix, second: Matrix): Matrix {
  const [a, b, c, d, e, f] = first;
  const [A, B, C, D, E, F] = second;
  return [a * A + b * C, a * B + b * D, c * A + d * C, c * B + d * D, e * A + f * C + E, e * B + f * D + F];
}

/** Where a point goes. */
export function transformPoint([a, b, c, d, e, f]: Matrix, x: number, y: number): PagePoint {
  return { x: a * x + c * y + e, y: b * x + d * y + f };
}

/** The map that undoes another, or null where there is none. */
export function invert([a, b, c, d, e, f]: Matrix): Matrix | null {
  const determinant = a * d - b * c;
  if (determinant === 0 || !Number.isFinite(determinant)) return null;
  return [
    d / determinant,
    -b / determinant,
    -c / determinant,
    a / determinant,
    (c * f - d * e) / determinant,
    (b * e - a * f) / determinant,
  ];
}
