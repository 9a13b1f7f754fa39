import type { Box, Mm } from '../model/index.ts';
import type { Grey } from './grey.ts';
import type { Cell, Plan, PlanSheet, PlanSide } from './plan.ts';
import { boxWithoutCreep, spineEdge } from './spine-edge.ts';

/** A bar on the back of a section, by which a bindery sees that sections are gathered in order. */
export interface CollatingMark {
  /** From the heads of the section's pages to the middle of the bar. */
  readonly fromHeadMm: Mm;
  /** Where it lies on its side. */
  readonly box: Box;
}

/** Longer is a rule, shorter is type. Common practice, no source. */
const BAR = { leastMm: 3, mostMm: 20 };
/** From the middle of the back to what lies beside a bar, beyond the gap between the pages. */
const FLANK_MM = 2;
/** How dark a bar is, and how much darker than what lies beside it. */
const DARK = { most: 150, least: 70 };

/**
 * Reads the collating mark of a section: one bar on the fold between its first and its last page, darker than both of its
 * flanks. Where pictures run over the back, it cannot be told from them.
 *
 * @param cells  of the side that the section's first page is on, where they lie on `grey`
 * @param grey  of that side
 * @returns null where there is none, or more than one thing that could be it
 * @source common practice, no source
 */
export function readCollatingMark(
  { binding, reads }: Pick<Plan, 'binding' | 'reads'>,
  { cells }: PlanSide,
  grey: Grey,
): CollatingMark | null {
  const back = binding === 'saddle-stitched' ? null : backOf(cells, reads);
  if (back === null) return null;
  const { first, x, gapMm } = back;
  const runs = barsAlong(grey, first.box, { x, flankMm: gapMm / 2 + FLANK_MM, halfMm: Math.max(gapMm / 2, 0.5) });
  const [only, ...more] = runs.filter(({ from, to }) => to - from >= BAR.leastMm && to - from <= BAR.mostMm);
  if (only === undefined || more.length > 0) return null;
  const middle = (only.from + only.to) / 2;
  const fromHeadMm = first.turnDeg === 0 ? middle - first.box.y : first.box.y + first.box.height - middle;
  const across = widthOf(grey, middle, { from: x - gapMm / 2 - FLANK_MM, to: x + gapMm / 2 + FLANK_MM });
  return { fromHeadMm, box: { ...across, y: only.from, height: only.to - only.from } };
}

/** The side of a sheet on which its section begins. */
export function firstSide({ sides }: PlanSheet): PlanSide | null {
  const firsts = sides.map(({ cells }) => Math.min(...cells.map(({ page }) => page ?? Infinity)));
  const least = Math.min(...firsts);
  return Number.isFinite(least) ? (sides[firsts.indexOf(least)] ?? null) : null;
}

interface Back {
  readonly first: Cell;
  /** Its middle across the sheet. */
  readonly x: Mm;
  /** Paper between the first page and the last. */
  readonly gapMm: Mm;
}

/** The fold that becomes the section's back; null where pages lie on their sides. */
function backOf(cells: readonly Cell[], reads: Plan['reads']): Back | null {
  const printed = cells.flatMap((cell) => (cell.page === null ? [] : [{ ...cell, page: cell.page }]));
  const first = printed.toSorted((one, other) => one.page - other.page)[0];
  const edge = first === undefined ? null : spineEdge(first, reads);
  if (first === undefined || (edge !== 'left' && edge !== 'right')) return null;
  const box = boxWithoutCreep(first, reads);
  const spine = edge === 'left' ? box.x : box.x + box.width;
  const gaps = cells.flatMap((cell) => {
    const { x, y, width, height } = boxWithoutCreep(cell, reads);
    if (Math.abs(y - box.y) > height / 2 || cell === first) return [];
    const gap = edge === 'left' ? spine - x - width : x - spine;
    return gap > -1 && gap < box.width / 2 ? [Math.max(0, gap)] : [];
  });
  const gapMm = Math.min(...gaps);
  if (!Number.isFinite(gapMm)) return null;
  return { first: { ...first, box }, x: edge === 'left' ? spine - gapMm / 2 : spine + gapMm / 2, gapMm };
}

/** Stretches of the back that are darker than both flanks: from and to in mm from the sheet's top. */
function barsAlong(
  { width, height, pxPerMm, data }: Grey,
  page: Box,
  { x, flankMm, halfMm }: { readonly x: Mm; readonly flankMm: Mm; readonly halfMm: Mm },
): readonly { readonly from: Mm; readonly to: Mm }[] {
  const px = (mm: Mm): number => Math.min(width - 1, Math.max(0, Math.floor(mm * pxPerMm)));
  const [from, to] = [px(x - halfMm), px(x + halfMm)];
  const flanks = [px(x - flankMm), px(x + flankMm)] as const;
  const bottom = Math.min(height, Math.round((page.y + page.height) * pxPerMm));
  const bars: { from: Mm; to: Mm }[] = [];
  let begun = -1;
  for (let y = Math.max(0, Math.round(page.y * pxPerMm)); y <= bottom; y++) {
    let darkest = 255;
    if (y < bottom) for (let at = from; at <= to; at++) darkest = Math.min(darkest, data[y * width + at]!);
    const beside = Math.min(data[y * width + flanks[0]] ?? 0, data[y * width + flanks[1]] ?? 0);
    const isBar = y < bottom && darkest <= DARK.most && beside - darkest >= DARK.least;
    if (isBar && begun < 0) begun = y;
    if (isBar || begun < 0) continue;
    bars.push({ from: begun / pxPerMm, to: y / pxPerMm });
    begun = -1;
  }
  return bars;
}

/** Where a bar begins and ends across, halfway between its own darkness and that of its flanks. */
function widthOf(
  { width, pxPerMm, data }: Grey,
  y: Mm,
  { from, to }: { readonly from: Mm; readonly to: Mm },
): { readonly x: Mm; readonly width: Mm } {
  const row = Math.round(y * pxPerMm) * width;
  const [left, right] = [Math.max(0, Math.floor(from * pxPerMm)), Math.min(width, Math.ceil(to * pxPerMm))];
  const across = data.subarray(row + left, row + right);
  const half = (Math.min(...across) + Math.max(...across)) / 2;
  const begins = left + across.findIndex((grey) => grey < half);
  const ends = left + across.findLastIndex((grey) => grey < half) + 1;
  return { x: begins / pxPerMm, width: (ends - begins) / pxPerMm };
}
