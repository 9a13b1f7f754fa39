import type { Box } from '../model/index.ts';
import type { Grey } from './grey.ts';
import { pixelPart, thumbnail, uprightPart } from './grey.ts';
import type { CellTurn } from './plan.ts';

/** Cells of the small pictures that pages are known by. */
const COLUMNS = 40;
const ROWS = 50;
/** So alike a page must be; the next one must be twice as unlike, and by more than noise. */
const KNOWN = { likeness: 0.6, timesCloser: 2, ahead: 0.005 };

/** A page of the dummy as it is looked for on sheets. */
export interface KnownPage {
  /** From 1. */
  readonly page: number;
  readonly thumb: Float32Array | null;
}

/** Which page of the dummy stands in a cell. */
export interface Recognised {
  readonly page: number;
  readonly turnDeg: CellTurn;
  /** Correlation, at most 1. */
  readonly likeness: number;
  /** How alike the same page would be as the plan has it turned. */
  readonly asPlanned: number;
}

/** Makes a page ready to be recognised. */
export function knownPage(page: number, grey: Grey): KnownPage {
  return { page, thumb: thumbnail(grey, COLUMNS, ROWS) };
}

/**
 * Recognises the page that stands at a place of a sheet, whichever way it is turned there.
 *
 * @param plannedDeg  how the plan has it turned
 * @returns null where there is only paper, or nothing that is clearly one of the pages
 */
export function recognisePage(
  sheet: Grey,
  box: Box,
  plannedDeg: CellTurn,
  pages: readonly KnownPage[],
): Recognised | null {
  const part = pixelPart(box, sheet.pxPerMm);
  const turns = ([0, 180] as const).map((more) => ((plannedDeg + more) % 360) as CellTurn);
  const seen = turns.map((turnDeg) => thumbnail(uprightPart(sheet, part, turnDeg), COLUMNS, ROWS));
  let best: Recognised | null = null;
  let second = -1;
  for (const { page, thumb } of pages) {
    if (thumb === null) continue;
    const likes = seen.map((cells) => (cells === null ? -1 : product(cells, thumb)));
    const [asPlanned, turned] = likes as [number, number];
    const likeness = Math.max(asPlanned, turned);
    const found = { page, likeness, asPlanned, turnDeg: asPlanned >= turned ? turns[0]! : turns[1]! };
    if (best === null || likeness > best.likeness) {
      second = best?.likeness ?? -1;
      best = found;
    } else if (likeness > second) {
      second = likeness;
    }
  }
  if (best === null || best.likeness < KNOWN.likeness || best.likeness - second < KNOWN.ahead) return null;
  return 1 - second >= KNOWN.timesCloser * (1 - best.likeness) ? best : null;
}

function product(one: Float32Array, other: Float32Array): number {
  let sum = 0;
  for (let at = 0; at < one.length; at++) sum += one[at]! * other[at]!;
  return sum;
}
