import { setImmediate } from 'node:timers/promises';
import type { Box, PageDescription } from '../../model/index.ts';
import {
  commonShift,
  creepOf,
  creepShift,
  measurePlace,
  ownShift,
  placeByWords,
  sidesInOrder,
} from '../../plates/index.ts';
import type { Cell, Plan, Recognised, SeenCell, SeenSide } from '../../plates/index.ts';
import type { Tolerances } from '../../model/index.ts';
import type { LookedFor } from './read-dummy.ts';
import type { ReadSide, SheetsRead } from './read-sheets.ts';
import { recognisedAt } from './recognised-on-side.ts';
import type { SettledPlan } from './settle-plan.ts';

/** A page that is nearly all one picture cannot say whether it or its crop moved; the comparison of pages will. */
const ONE_PICTURE_SHARE = 0.6;
/** Type and the rest of a page that move apart are a matter of the page, not of its place. */
const TOGETHER_MM = 0.6;
/** What lies nearer to its place is cut there: measuring is no finer. */
const MEASURED_MM = 0.05;
/**
 * A page alone, unless its words tell, is measured to half a pixel, more coarsely than the many of a side together: nearer than this to its place,
 * it lies there. Of 24 pages that did, the worst was measured 0.18 mm off (test/evaluation/sheets).
 */
const OWN_MM = 0.25;
/** A page is only called turned where it is this much more alike the other way up. */
const TURNED_BY = 0.2;

/**
 * Looks at every cell: which page stands there, how it is turned, and how far beside its place. Where nothing but matching
 * tells places, a page of one picture tells its own.
 */
export async function lookAtSides(settled: SettledPlan, read: SheetsRead): Promise<readonly SeenSide[]> {
  const seen: SeenSide[] = [];
  for (const planned of placedAsPlanned(settled)) {
    const paper = read.sides[planned.filePage - 1]!;
    const cells: SeenCell[] = [];
    for (const { cell } of planned.cells) {
      // what workers answer meanwhile is heard
      await setImmediate();
      const recognised = recognisedAt(read, planned.filePage - 1, cell.box, cell.turnDeg);
      const page = read.pages[(recognised?.page ?? cell.page ?? 0) - 1] ?? null;
      const offMm = page === null ? null : measure(paper, page, cell, recognised, settled.located === 'matching');
      cells.push({ cell, box: cell.box, recognised, offMm });
    }
    seen.push({ ...planned, cells });
  }
  return seen;
}

/** Every side and cell as the plan has it, before anybody looked. */
export function placedAsPlanned({ plan, filePages }: SettledPlan): readonly SeenSide[] {
  return sidesInOrder(plan).map(({ sheet, side }, index) => ({
    sheet: sheet.sheet,
    side: side.side,
    filePage: filePages[index]!,
    cells: side.cells.map((cell) => ({ cell, box: cell.box, recognised: null, offMm: null })),
  }));
}

function measure(
  { grey: sheet, words }: ReadSide,
  page: LookedFor,
  cell: Cell,
  recognised: Recognised | null,
  nothingElse: boolean,
): SeenCell['offMm'] {
  const turnDeg = recognised?.turnDeg ?? cell.turnDeg;
  const { pictures } = page.description;
  const besides = isOnePicture(page.description) ? [] : pictures.map(({ window }) => window);
  const type = page.words.map(({ box }) => box);
  const seen = measurePlace({ sheet, page: page.grey, pictures: besides, type }, cell.box, turnDeg);
  if (seen === null) return null;
  const told = placeByWords({ dummy: page.words, sheet: words }, cell.box, turnDeg);
  const off = (box: Box, byWords: boolean) => ({ x: box.x - cell.box.x, y: box.y - cell.box.y, byWords });
  const byLooks = off(seen.box, false);
  if (told !== null) {
    const exact = off(told, true);
    return Math.hypot(exact.x - byLooks.x, exact.y - byLooks.y) <= TOGETHER_MM ? exact : null;
  }
  return isOnePicture(page.description) && !nothingElse ? null : byLooks;
}

function isOnePicture({ pictures, trimmed }: PageDescription): boolean {
  const area = trimmed.width * trimmed.height;
  return pictures.some(({ window }) => window.width * window.height >= ONE_PICTURE_SHARE * area);
}

/**
 * Where the pages are cut: at their planned places, moved by what their side, creep and they themselves were measured to
 * be off, so that a sheet's fault is told once and not again of everything on the page.
 */
export function cutBoxes(plan: Plan, seen: readonly SeenSide[], tolerances: Tolerances): readonly SeenSide[] {
  return seen.map((side) => {
    const sheet = seen.filter((other) => other.sheet === side.sheet);
    const creep = creepOf(plan, sheet, tolerances);
    const common = commonShift(side.cells);
    const cells = side.cells.map((cell): SeenCell => {
      const measured = ownShift(plan, cell, common, creep) ?? { x: 0, y: 0 };
      const least = cell.offMm?.byWords === true ? MEASURED_MM : OWN_MM;
      const own = Math.hypot(measured.x, measured.y) < least ? { x: 0, y: 0 } : measured;
      const crept = creepShift(plan, cell.cell, creep);
      const x = common.x + own.x + crept.x;
      const y = common.y + own.y + crept.y;
      const { box } = cell.cell;
      return Math.hypot(x, y) < MEASURED_MM ? cell : { ...cell, box: { ...box, x: box.x + x, y: box.y + y } };
    });
    return { ...side, cells };
  });
}

/** The sides with every page taken for the one that the plan has there. */
export function asPlanned(seen: readonly SeenSide[]): readonly SeenSide[] {
  return seen.map((side) => ({
    ...side,
    cells: side.cells.map((one) =>
      one.recognised === null || one.recognised.page === one.cell.page
        ? one
        : { ...one, box: one.cell.box, recognised: null, offMm: null },
    ),
  }));
}

/** Pages that stand on their head against the plan, by the page whose cell it is. */
export function turnedCells(seen: readonly SeenSide[]): ReadonlyMap<number, 90 | 180 | 270> {
  const turned = seen.flatMap(({ cells }) =>
    cells.flatMap(({ cell, recognised }) => {
      if (cell.page === null || recognised === null) return [];
      if (recognised.turnDeg === cell.turnDeg || recognised.likeness - recognised.asPlanned < TURNED_BY) return [];
      return [[cell.page, ((recognised.turnDeg - cell.turnDeg + 360) % 360) as 90 | 180 | 270] as const];
    }),
  );
  return new Map(turned);
}
