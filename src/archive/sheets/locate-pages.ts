import type { ReportSheets } from '../../model/index.ts';
import { Refusal } from '../../model/index.ts';
import { agreesWithMarks, findGridByMatching } from '../../plates/index.ts';
import type { MarkedGrid } from '../../plates/index.ts';
import { recognisedOn } from './recognised-on-side.ts';
import type { ReadSide, SheetsRead } from './read-sheets.ts';

/** Of the pages that boxes tell, those that must be seen to stand in them. */
const LEAST_SHOWN = 0.5;

/** Where pages lie on each side, and what told it: of several the least certain. */
export interface LocatedPages {
  readonly grids: readonly MarkedGrid[];
  readonly located: Exclude<ReportSheets['located'], 'plan'>;
}

/**
 * Finds where the pages lie on each side: by the boxes that the file places them with, where pages are seen in them and
 * crop marks do not say otherwise, since paper is cut at the marks; by crop marks; by laying the dummy's pages over the
 * sides. A side that tells nothing has its pages where another of its size has
 * them, and one that matching leaves in doubt as many columns and rows as one of its size of which there is none.
 *
 * @throws {Refusal} unreadable: a side on which no page of the dummy is to be seen
 */
export function locatePages(read: SheetsRead): LocatedPages {
  const { sides, trimmed } = read;
  const greys = read.pages.flatMap((page) => (page === null ? [] : [page.grey]));
  const boxes = sides.map((side, index) => (boxesHold(read, index) ? side.boxes : null));
  const alikes = sides.map((side, index) => sides.map((other, at) => at !== index && isAlike(side, other)));
  const told = sides.map(({ marks, grey }, index): ToldGrid | null => {
    const ofAlike = (grids: readonly (MarkedGrid | null)[]): MarkedGrid | null =>
      grids.find((grid, at) => grid !== null && alikes[index]![at]) ?? null;
    const own = boxes[index] ?? null;
    if (own !== null) return { grid: own, by: 'boxes' };
    if (marks !== null) return { grid: marks, by: 'marks' };
    const elsewhere = ofAlike(boxes);
    if (elsewhere !== null && showsPages(read, index, elsewhere)) return { grid: elsewhere, by: 'boxes' };
    const marked = ofAlike(sides.map((side) => side.marks));
    if (marked !== null) return { grid: marked, by: 'marks' };
    const grid = findGridByMatching(grey, greys, trimmed);
    return grid === null ? null : { grid, by: 'matching', isSure: grid.isSure };
  });
  const matched = told.map((own, index): ToldGrid | null => {
    if (own?.by !== 'matching' || own.isSure === true) return own;
    const sure = told.find((other, at) => other?.isSure === true && alikes[index]![at]);
    if (sure == null || isLaidAlike(own.grid, sure.grid)) return own;
    const again = findGridByMatching(sides[index]!.grey, greys, trimmed, sure.grid);
    return { grid: again ?? sure.grid, by: 'matching' };
  });
  const grids = matched.map((own, index): MarkedGrid => {
    const found = own ?? matched.find((other, at) => other !== null && alikes[index]![at]);
    if (found != null) return found.grid;
    throw new Refusal('unreadable', {
      file: 'the sheets',
      reason: 'no page of the dummy is to be seen',
      page: index + 1,
    });
  });
  const isTold = (by: ToldGrid['by']): boolean => told.some((one) => one?.by === by);
  return { grids, located: isTold('matching') ? 'matching' : isTold('marks') ? 'marks' : 'boxes' };
}

interface ToldGrid {
  readonly grid: MarkedGrid;
  readonly by: LocatedPages['located'];
  /** Of matching. */
  readonly isSure?: boolean;
}

function isLaidAlike(one: MarkedGrid, other: MarkedGrid): boolean {
  const [columns, rows] = [one.columnsMm.length, one.rowsMm.length];
  return one.onSide === other.onSide && columns === other.columnsMm.length && rows === other.rowsMm.length;
}

function isAlike(one: ReadSide, other: ReadSide): boolean {
  return one.width === other.width && one.height === other.height;
}

function boxesHold(read: SheetsRead, index: number): boolean {
  const { boxes, marks } = read.sides[index]!;
  if (boxes === null || (marks !== null && !agreesWithMarks(boxes, marks))) return false;
  return showsPages(read, index, boxes);
}

function showsPages(read: SheetsRead, index: number, grid: MarkedGrid): boolean {
  const { cells } = recognisedOn(read, index, grid);
  return cells.filter((cell) => cell !== null).length >= LEAST_SHOWN * cells.length;
}
