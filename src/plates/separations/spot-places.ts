import type { Box, Report } from '../../model/index.ts';
import type { CellCount, InkGrid } from './ink-grid.ts';

/** What is printed on a page with a spot colour, upright, a cell a square millimetre. */
export interface SpotOnPage extends CellCount {
  /** Of the folded book, from 1. */
  readonly page: number;
  readonly ink: string;
  readonly grid: InkGrid;
}

/** Levels of 255 from which a cell counts as printed. */
const PRINTED = 12;
/** So much of a place has to be printed for the spot colour to be what is missing there. */
const LEAST_SHARE = 0.3;

/**
 * Says of what is missing from a page that a spot colour prints there: it is kept apart from the picture that pages are
 * compared by. The finding stays as it is, for whether it is the same colour is not seen.
 */
export function tellSpots(report: Report, spots: readonly SpotOnPage[]): Report {
  const findings = report.findings.map((finding) => {
    const box = finding.revisionBox ?? finding.box;
    if (box === null) return finding;
    const own = spots.filter((spot) => spot.page === finding.revisionPage && printedShare(spot, box) >= LEAST_SHARE);
    return own.length === 0 ? finding : { ...finding, says: `${finding.says} ${sentenceOf(own)}` };
  });
  return { ...report, findings: findings };
}

function sentenceOf(spots: readonly SpotOnPage[]): string {
  const inks = [...new Set(spots.map(({ ink }) => ink))].join(', ');
  return `There ${inks} prints, which is kept apart.`;
}

function printedShare({ grid, columns, rows }: SpotOnPage, { x, y, width, height }: Box): number {
  const [left, top] = [Math.max(0, Math.floor(x)), Math.max(0, Math.floor(y))];
  const [right, bottom] = [Math.min(columns, Math.ceil(x + width)), Math.min(rows, Math.ceil(y + height))];
  let [printed, cells] = [0, 0];
  for (let row = top; row < bottom; row++) {
    for (let column = left; column < right; column++) {
      cells += 1;
      if (grid[row * columns + column]! >= PRINTED) printed += 1;
    }
  }
  return cells === 0 ? 0 : printed / cells;
}
