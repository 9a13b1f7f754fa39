import type { Deg, Mm } from '../../model/index.ts';
import type { Glyph } from './glyph.ts';

/** A glyph on its baseline: distances along and across it, in mm. */
export interface Laid {
  readonly glyph: Glyph;
  /** Unit vector of the baseline in page mm. */
  readonly direction: { readonly x: number; readonly y: number };
  readonly start: Mm;
  readonly end: Mm;
  /** Distance of the baseline from the page's origin, to its right when looking along it. */
  readonly across: Mm;
  /** Font size. */
  readonly size: Mm;
}

/** A glyph's place along and across its baseline, or null where its transformation has no extent. */
export function layOnBaseline(glyph: Glyph): Laid | null {
  const [a, b, c, d, e, f] = glyph.matrix;
  const length = Math.hypot(a, b);
  const size = Math.hypot(c, d);
  if (!(length > 0 && size > 0 && Number.isFinite(length * size))) return null;
  const direction = { x: a / length, y: b / length };
  const start = e * direction.x + f * direction.y;
  return {
    glyph,
    direction,
    start,
    end: start + glyph.width * length,
    across: f * direction.x - e * direction.y,
    size,
  };
}

/** Direction in degrees, clockwise positive, to a tenth, from -180 (excluded) to 180. */
export function turnOf({ x, y }: Laid['direction']): Deg {
  const turn = Math.round((Math.atan2(y, x) * 1800) / Math.PI) / 10;
  return turn <= -180 ? 180 : turn === 0 ? 0 : turn;
}
