import type { Outcome } from './judge-report.ts';

/** How far what was measured lies from what was planted. */
export interface Errors {
  /** Of a crop: shift of content, or the edge that was cut. */
  readonly cropMm?: number;
  readonly scalePercent?: number;
  readonly turnDeg?: number;
  readonly moveMm?: number;
  /** Of a side, a page on it, or a plate. */
  readonly placeMm?: number;
  /** Measured over true. */
  readonly areaRatio?: number;
}

/** The errors of one outcome; nothing where it was not named rightly or has no figures. */
export function errorsOf({ wanted, found, namedRightly }: Outcome): Errors {
  const { figures } = wanted;
  if (!namedRightly || found === null || figures === undefined) return {};
  switch (found.kind) {
    case 'crop-altered': {
      const { shiftXmm, shiftYmm, scale, cutMm } = found.measured;
      const shift = Math.hypot(shiftXmm - (figures.shiftXmm ?? 0), shiftYmm - (figures.shiftYmm ?? 0));
      const cut = figures.cutMm === undefined ? 0 : Math.abs(cutMm[figures.cutMm.edge] - figures.cutMm.mm);
      return { cropMm: Math.max(shift, cut), scalePercent: 100 * Math.abs(scale / (figures.scale ?? 1) - 1) };
    }
    case 'picture-resized':
      return { scalePercent: 100 * Math.abs(found.measured.scale / (figures.scale ?? 1) - 1) };
    case 'picture-moved': {
      const { shiftXmm, shiftYmm } = found.measured;
      return { moveMm: Math.hypot(shiftXmm - (figures.shiftXmm ?? 0), shiftYmm - (figures.shiftYmm ?? 0)) };
    }
    case 'back-out-of-register':
    case 'page-off-place':
    case 'separation-out-of-register': {
      const { shiftXmm, shiftYmm } = found.measured;
      return { placeMm: Math.hypot(shiftXmm - (figures.shiftXmm ?? 0), shiftYmm - (figures.shiftYmm ?? 0)) };
    }
    case 'picture-turned':
    case 'page-turned': {
      const off = Math.abs(found.measured.degrees - (figures.degrees ?? 0)) % 360;
      return { turnDeg: Math.min(off, 360 - off) };
    }
    case 'picture-retouched':
      return { areaRatio: found.measured.areaMm2 / (figures.areaMm2 ?? Number.NaN) };
    default:
      return {};
  }
}

/** The middle one of several figures; null of none. */
export function medianOf(figures: readonly number[]): number | null {
  const sorted = figures.toSorted((a, b) => a - b);
  const middle = sorted.length / 2;
  if (sorted.length === 0) return null;
  return (sorted[Math.ceil(middle) - 1]! + sorted[Math.floor(middle)]!) / 2;
}

export function worstOf(figures: readonly number[]): number | null {
  return figures.length === 0 ? null : Math.max(...figures);
}
