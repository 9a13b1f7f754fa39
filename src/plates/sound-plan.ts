import type { Box, Mm } from '../model/index.ts';
import { hasTwoFormes, intersectBoxes, isTumbled, Refusal } from '../model/index.ts';
import type { Cell, Plan, PlanSheet, PlanSide } from './plan.ts';

/** Rounding of a plan that was written by hand. */
const ROUNDED_MM = 0.05;

/**
 * Refuses a plan that no sheet can be folded from: a page that stands nowhere or twice, cells that overlap or leave the
 * sheet, cells of another size than the page, or leaves whose two pages do not back each other.
 *
 * @throws {Refusal} malformed: names the sheet, the side and the page
 */
export function requireSoundPlan(plan: Plan): void {
  requireEachPageOnce(plan);
  for (const sheet of plan.sheets) {
    requireSides(sheet);
    for (const side of sheet.sides) {
      requireCellsFit(plan, sheet, side);
      requireApart(sheet, side);
    }
    requireBacking(plan, sheet);
  }
}

/**
 * Refuses a plan for a book of another length.
 *
 * @throws {Refusal} malformed: the plan's pages and the book's differ
 */
export function requirePlanFor(plan: Pick<Plan, 'pages'>, pages: number): void {
  if (plan.pages === pages) return;
  throw new Refusal('malformed', {
    pointer: 'plan/pages',
    expected: `a plan for the dummy’s ${pages} pages`,
    found: `one for ${plan.pages}`,
  });
}

function requireEachPageOnce(plan: Plan): void {
  const places = new Map<number, string>();
  for (const sheet of plan.sheets) {
    for (const { side, cells } of sheet.sides) {
      for (const { page } of cells) {
        if (page === null) continue;
        const here = `sheet ${sheet.sheet} ${side}`;
        const before = places.get(page);
        if (before !== undefined) throw wrong(here, `page ${page} once`, `it also stands on ${before}`);
        if (page < 1 || page > plan.pages) throw wrong(here, `pages from 1 to ${plan.pages}`, `page ${page}`);
        places.set(page, here);
      }
    }
  }
  for (let page = 1; page <= plan.pages; page++) {
    if (!places.has(page)) throw wrong('sheets', `page ${page} on one of the sheets`, 'it stands on none');
  }
}

function requireSides({ sheet, working, sides }: PlanSheet): void {
  const names = sides.map(({ side }) => side).join(' and ');
  const expected = hasTwoFormes(working) ? 'front and back' : 'both';
  if (names !== expected) throw wrong(`sheet ${sheet}`, `${working}: ${expected}`, names || 'no sides');
}

function requireCellsFit({ trimmed }: Plan, { sheet, width, height }: PlanSheet, { side, cells }: PlanSide): void {
  for (const cell of cells) {
    const lying = cell.turnDeg === 90 || cell.turnDeg === 270;
    const [across, down] = lying ? [trimmed.height, trimmed.width] : [trimmed.width, trimmed.height];
    const { box } = cell;
    if (Math.abs(box.width - across) > ROUNDED_MM || Math.abs(box.height - down) > ROUNDED_MM) {
      throw wrong(nameOf(sheet, side, cell), `a cell of ${size(across, down)}`, size(box.width, box.height));
    }
    const beyond = Math.max(0 - box.x, 0 - box.y, box.x + box.width - width, box.y + box.height - height);
    if (beyond > ROUNDED_MM) {
      throw wrong(
        nameOf(sheet, side, cell),
        `a cell on a sheet of ${size(width, height)}`,
        `${beyond.toFixed(1)} mm over`,
      );
    }
  }
}

/** Creep brings pages that meet at a spine over each other by as much as they were moved. */
function requireApart({ sheet }: PlanSheet, { side, cells }: PlanSide): void {
  cells.forEach((cell, index) => {
    for (const other of cells.slice(index + 1)) {
      const shared = intersectBoxes(cell.box, other.box);
      if (shared === null) continue;
      const depth = Math.min(shared.width, shared.height);
      if (depth <= cell.creepMm + other.creepMm + ROUNDED_MM) continue;
      throw wrong(
        nameOf(sheet, side, cell),
        'cells that do not overlap',
        `${depth.toFixed(1)} mm over the cell of ${pageName(other)}`,
      );
    }
  });
}

/** Pages 2k-1 and 2k are the two sides of one leaf: through the sheet, their cells are one place, heads the same way. */
function requireBacking({ pages }: Plan, sheet: PlanSheet): void {
  const cells = sheet.sides.flatMap(({ side, cells: own }) => own.map((cell) => ({ side, cell })));
  for (const { side, cell } of cells) {
    if (cell.page === null || (cell.page % 2 === 1 && cell.page === pages)) continue;
    const partner = cell.page % 2 === 1 ? cell.page + 1 : cell.page - 1;
    const back = cells.find((one) => one.cell.page === partner);
    const behind = throughTheSheet(sheet, cell);
    const backs =
      back !== undefined &&
      (!hasTwoFormes(sheet.working) || back.side !== side) &&
      isSamePlace(back.cell.box, behind.box) &&
      back.cell.turnDeg === behind.turnDeg;
    if (!backs) {
      const found = back === undefined ? 'another sheet' : 'another place';
      throw wrong(nameOf(sheet.sheet, side, cell), `page ${partner} behind it`, `it in ${found}`);
    }
  }
}

/** Where a cell shows when the sheet has been turned as it is worked. */
function throughTheSheet(
  { working, width, height }: Pick<PlanSheet, 'working' | 'width' | 'height'>,
  { box, turnDeg }: Pick<Cell, 'box' | 'turnDeg'>,
): Pick<Cell, 'box' | 'turnDeg'> {
  // Turned about an axis, quarter turns change their sense; tumbled, everything stands on its head as well.
  const turned = ((360 - turnDeg) % 360) as Cell['turnDeg'];
  if (!isTumbled(working)) {
    return { box: { ...box, x: width - box.x - box.width }, turnDeg: turned };
  }
  return { box: { ...box, y: height - box.y - box.height }, turnDeg: ((turned + 180) % 360) as Cell['turnDeg'] };
}

function isSamePlace(one: Box, other: Box): boolean {
  return Math.abs(one.x - other.x) <= ROUNDED_MM && Math.abs(one.y - other.y) <= ROUNDED_MM;
}

function nameOf(sheet: number, side: string, cell: Cell): string {
  return `sheet ${sheet} ${side}, ${pageName(cell)}`;
}

function pageName({ page, row, column }: Cell): string {
  return page === null ? `the blank in row ${row}, column ${column}` : `page ${page}`;
}

function size(width: Mm, height: Mm): string {
  return `${width.toFixed(1)} x ${height.toFixed(1)} mm`;
}

function wrong(where: string, expected: string, found: string): Refusal {
  return new Refusal('malformed', { pointer: `plan: ${where}`, expected, found });
}
