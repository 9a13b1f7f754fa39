import type { Finding, FindingKind, FindingOf, Tolerances } from '../model/index.ts';
import { isTumbled } from '../model/index.ts';
import { medianOf } from './place-by-words.ts';
import type { Cell, Plan } from './plan.ts';
import type { SeenCell, SeenSide } from './seen-sides.ts';
import { spineEdge } from './spine-edge.ts';

/**
 * What is wrong with places on sheets, before anything is said of what the pages show: sides exchanged, sections out of
 * order, the back out of register, gutters, creep. Each is told once, the most telling first: a page that lies beside its
 * place with its whole side is not off its place itself.
 *
 * @param seen  every side of the plan, in its order
 * @param creepIsPlanned  whether the plan says how far leaves are moved; where not, none is wrong
 */
export function tellPlaceFindings(
  plan: Plan,
  seen: readonly SeenSide[],
  tolerances: Tolerances,
  creepIsPlanned: boolean,
): readonly Finding[] {
  const sheets = plan.sheets.map((sheet) => ({ sheet, sides: seen.filter((side) => side.sheet === sheet.sheet) }));
  return [
    ...tellOrder(plan, seen),
    ...sheets.flatMap(({ sheet, sides }) => tellRegister(sheet, sides, tolerances)),
    ...sheets.flatMap(({ sheet, sides }) => {
      const creep = creepOf(plan, sides, tolerances);
      const told = creep !== null && creepIsPlanned ? [tellCreep(sheet.sheet, sides, creep)] : [];
      return [...told, ...sides.flatMap((side) => tellOffPlace(plan, side, creep, tolerances))];
    }),
  ];
}

/** Where each page of the file should stand, against where it does. */
function tellOrder(plan: Plan, seen: readonly SeenSide[]): readonly Finding[] {
  const inOrder = seen.map((_, index) => seen.find(({ filePage }) => filePage === index + 1));
  const findings: Finding[] = [];
  for (const { sheet } of plan.sheets) {
    const places = seen.flatMap((side, index) => (side.sheet === sheet ? [index] : []));
    const found = places.map((place) => inOrder[place]);
    const firstPage = firstOf(seen.filter((side) => side.sheet === sheet));
    if (found.every((side, nth) => side === seen[places[nth]!])) continue;
    if (found.every((side) => side?.sheet === sheet)) {
      const says = `Front and back of sheet ${sheet} are exchanged.`;
      findings.push(stop('sides-exchanged', firstPage, { sheet }, says));
      continue;
    }
    for (const other of new Set(found.map((side) => side?.sheet))) {
      if (other === undefined || other === sheet) continue;
      const says = `Sheet ${other} stands in the file where sheet ${sheet} belongs.`;
      const page = firstOf(seen.filter((side) => side.sheet === other));
      findings.push(stop('section-out-of-order', page, { sheet: other, atSheet: sheet }, says));
    }
  }
  return findings;
}

function firstOf(sides: readonly SeenSide[]): number | null {
  const pages = sides.flatMap(({ cells }) => cells.flatMap(({ cell }) => (cell.page === null ? [] : [cell.page])));
  return pages.length === 0 ? null : Math.min(...pages);
}

/** A sheet's size as it is printed. */
type Paper = Plan['sheets'][number];

/** How the back lies on the front, from every leaf of which both pages were found. */
function tellRegister(sheet: Paper, sides: readonly SeenSide[], { registerMm }: Tolerances): readonly Finding[] {
  const [front, back] = sides;
  if (front === undefined || back === undefined) return [];
  const shifts = back.cells.flatMap(({ cell, offMm }) => {
    if (offMm === null || cell.page === null) return [];
    const partner = cell.page % 2 === 1 ? cell.page + 1 : cell.page - 1;
    const through = front.cells.find((one) => one.cell.page === partner);
    if (through?.offMm == null) return [];
    // a front that lies to the right is seen to the left through the sheet; tumbled, one that lies above is seen below
    const sense = isTumbled(sheet.working) ? -1 : 1;
    return [{ x: offMm.x + sense * through.offMm.x, y: offMm.y - sense * through.offMm.y }];
  });
  if (shifts.length < 2) return [];
  const x = medianOf(shifts.map((shift) => shift.x));
  const y = medianOf(shifts.map((shift) => shift.y));
  if (Math.hypot(x, y) <= registerMm) return [];
  const says = `The back of sheet ${sheet.sheet} is out of register with its front by ${mm(x)} across and ${mm(y)} down.`;
  const page = firstOf([front, back]);
  return [stop('back-out-of-register', page, { sheet: sheet.sheet, shiftXmm: x, shiftYmm: y }, says)];
}

/** What a side's pages have in common is its register, not their own place. */
export function commonShift(cells: readonly SeenCell[]): { readonly x: number; readonly y: number } {
  const told = cells.flatMap(({ offMm }) => (offMm === null ? [] : [offMm]));
  if (told.length < 2) return { x: 0, y: 0 };
  return { x: medianOf(told.map(({ x }) => x)), y: medianOf(told.map(({ y }) => y)) };
}

/** How far a cell's page lies beside its place, beyond what its whole side and creep explain; null where nothing tells. */
export function ownShift(
  plan: Plan,
  { cell, offMm }: SeenCell,
  common: { readonly x: number; readonly y: number },
  creep: Creep | null,
): { readonly x: number; readonly y: number } | null {
  if (offMm === null || cell.page === null) return null;
  const explained = creepShift(plan, cell, creep);
  return { x: offMm.x - common.x - explained.x, y: offMm.y - common.y - explained.y };
}

function tellOffPlace(
  plan: Plan,
  { sheet, side, cells }: SeenSide,
  creep: Creep | null,
  { sheetPlaceMm }: Tolerances,
): readonly Finding[] {
  const common = commonShift(cells);
  return cells.flatMap((seen) => {
    const { cell } = seen;
    const off = ownShift(plan, seen, common, creep);
    if (off === null || Math.hypot(off.x, off.y) <= sheetPlaceMm) return [];
    const at = { sheet, side, row: cell.row, column: cell.column };
    const says = `Page ${cell.page} lies ${mm(off.x)} across and ${mm(off.y)} down beside its place: ${placeName(at)}; gutter or head is wrong.`;
    return [stop('page-off-place', cell.page, { ...at, shiftXmm: off.x, shiftYmm: off.y }, says)];
  });
}

/** Pages of a section, outer to inner: how far around leaves lie. */
function nestingOf(plan: Plan, page: number): number {
  const { first, held } = sectionOf(plan, page);
  return around(page, first, held);
}

/** The section that holds a page, of one sheet or of several one inside the other: its first page, and how many it has. */
function sectionOf(plan: Plan, page: number): { readonly first: number; readonly held: number } {
  const spans = plan.sheets.map(({ sides }) => {
    const cells = sides.flatMap((side) => side.cells);
    const pages = cells.flatMap((cell) => (cell.page === null ? [] : [cell.page]));
    return { first: Math.min(...pages), last: Math.max(...pages), held: cells.length };
  });
  const heldOf = (inside: typeof spans): number => inside.reduce((sum, { held }) => sum + held, 0);
  if (plan.binding === 'saddle-stitched') return { first: 1, held: heldOf(spans) };
  const outer = spans
    .filter(({ first, last }) => first <= page && page <= last)
    .sort((one, other) => other.last - other.first - (one.last - one.first))[0];
  if (outer === undefined) return { first: page, held: 2 };
  return {
    first: outer.first,
    held: heldOf(spans.filter(({ first, last }) => first >= outer.first && last <= outer.last)),
  };
}

function around(page: number, first: number, length: number): number {
  const leaf = Math.floor((page - first) / 2);
  return Math.max(0, Math.min(leaf, length / 2 - 1 - leaf));
}

/** Steps that agree with each other make creep; a page that is off on its own does not. */
const FEWEST_LEAVES = 6;
const AGREE = 0.8;

/** Creep beyond what the cells of a plan have. */
export interface Creep {
  readonly perLeafMm: number;
  readonly deepest: number;
  readonly plannedMm: number;
}

/** How far pages lie from their planned places towards the spine, as a line over how deep they are nested; or null. */
export function creepOf(plan: Plan, sides: readonly SeenSide[], { creepMm }: Tolerances): Creep | null {
  const told = sides.flatMap(({ cells }) => {
    const common = commonShift(cells);
    return cells.flatMap(({ cell, offMm }) => {
      if (offMm === null || cell.page === null) return [];
      const nested = nestingOf(plan, cell.page);
      const towards = towardsSpine(plan, cell, { x: offMm.x - common.x, y: offMm.y - common.y });
      return [{ nested, towards, planned: cell.creepMm }];
    });
  });
  const deepest = Math.max(0, ...told.map(({ nested }) => nested));
  if (told.length < FEWEST_LEAVES || deepest === 0) return null;
  const { slope, correlation } = fitLine(told.map(({ nested, towards }) => [nested, towards]));
  if (Math.abs(slope * deepest) <= creepMm || Math.abs(correlation) < AGREE) return null;
  return { perLeafMm: slope, deepest, plannedMm: Math.max(...told.map(({ planned }) => planned)) };
}

function tellCreep(sheet: number, sides: readonly SeenSide[], creep: Creep): Finding {
  const { plannedMm } = creep;
  const foundMm = plannedMm + creep.perLeafMm * creep.deepest;
  const says = `On sheet ${sheet} the innermost leaf is moved ${mm(foundMm)} towards the spine; ${mm(plannedMm)} was planned.`;
  return { ...stop('creep-off-plan', firstOf(sides), { sheet, plannedMm, foundMm }, says), weight: 'look' };
}

/** By how much creep moves a page on its side. */
export function creepShift(plan: Plan, cell: Cell, creep: Creep | null): { readonly x: number; readonly y: number } {
  if (creep === null || cell.page === null) return { x: 0, y: 0 };
  const by = creep.perLeafMm * nestingOf(plan, cell.page);
  switch (spineEdge({ page: cell.page, turnDeg: cell.turnDeg }, plan.reads)) {
    case 'left':
      return { x: -1 * by, y: 0 };
    case 'right':
      return { x: by, y: 0 };
    case 'top':
      return { x: 0, y: -1 * by };
    case 'bottom':
      return { x: 0, y: by };
  }
}

function towardsSpine(plan: Plan, cell: Cell, { x, y }: { readonly x: number; readonly y: number }): number {
  switch (spineEdge({ page: cell.page ?? 1, turnDeg: cell.turnDeg }, plan.reads)) {
    case 'left':
      return -1 * x;
    case 'right':
      return x;
    case 'top':
      return -1 * y;
    case 'bottom':
      return y;
  }
}

function fitLine(points: readonly (readonly [number, number])[]) {
  const n = points.length;
  const meanX = points.reduce((sum, [x]) => sum + x, 0) / n;
  const meanY = points.reduce((sum, [, y]) => sum + y, 0) / n;
  let [xx, xy, yy] = [0, 0, 0];
  for (const [x, y] of points) {
    xx += (x - meanX) ** 2;
    xy += (x - meanX) * (y - meanY);
    yy += (y - meanY) ** 2;
  }
  const slope = xx === 0 ? 0 : xy / xx;
  return {
    slope,
    correlation: xx === 0 || yy === 0 ? 0 : xy / Math.sqrt(xx * yy),
  };
}

/** "sheet 1 front, row 2, column 3". */
export function placeName(at: {
  readonly sheet: number;
  readonly side: 'front' | 'back' | 'both';
  readonly row: number;
  readonly column: number;
}): string {
  return `sheet ${at.sheet}${at.side === 'both' ? '' : ` ${at.side}`}, row ${at.row}, column ${at.column}`;
}

function mm(length: number): string {
  return `${(Math.round(length * 100) / 100 + 0).toFixed(2)} mm`;
}

function stop<K extends FindingKind>(
  kind: K,
  page: number | null,
  measured: FindingOf<K>['measured'],
  says: string,
): FindingOf<K> {
  return {
    kind,
    weight: 'stop',
    dummyPage: page,
    revisionPage: page,
    box: null,
    revisionBox: null,
    measured,
    says,
  };
}
