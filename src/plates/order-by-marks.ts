import type { Finding } from '../model/index.ts';
import { firstSide, readCollatingMark, type CollatingMark } from './collating-marks.ts';
import type { Grey } from './grey.ts';
import type { Plan } from './plan.ts';
import { sectionsByMarks } from './sections-by-marks.ts';
import { sidesInOrder, type AssignedSides } from './seen-sides.ts';

/** A collating mark on a sheet, and which section it says. */
export interface MarkedSheet extends Pick<CollatingMark, 'box'> {
  /** The sheet that it stands on. */
  readonly sheet: number;
  /** Of the mark, from 1; null where it tells none. */
  readonly section: number | null;
}

/** Which page of the file is which side, and the marks that were read. */
export interface OrderedSides {
  readonly filePages: readonly number[];
  readonly marks: readonly MarkedSheet[];
}

/**
 * Puts sheets that their pages do not tell into the order of their collating marks, since blank sections and those of type
 * alone are much alike. Where pages tell a sheet, its mark changes nothing; that they disagree is told.
 *
 * @param plan  with its cells where they lie
 * @param assigned  by pages, for each side of the plan
 * @param greys  of the pages of the file
 */
export function orderByMarks(plan: Plan, assigned: AssignedSides, greys: readonly Grey[]): OrderedSides {
  const places = placesOf(plan);
  const read = plan.sheets.map((sheet, index): CollatingMark | null => {
    const side = firstSide(sheet);
    const at = places[index]!.find((place) => sidesInOrder(plan)[place]!.side === side);
    return side === null || at === undefined
      ? null
      : readCollatingMark(plan, side, greys[assigned.filePages[at]! - 1]!);
  });
  const isTold = places.map((own) => own.some((place) => assigned.isToldByPages[place]));
  const sections = sectionsByMarks(
    read.map((mark, index) => ({ fromHeadMm: mark?.fromHeadMm ?? null, isToldByPages: isTold[index]! })),
  );
  const moved = untoldInOrder(sections, isTold, places);
  const filePages = [...assigned.filePages];
  for (const [from, to] of moved) {
    places[from]!.forEach((place, nth) => (filePages[places[to]![nth]!] = assigned.filePages[place]!));
  }
  const marks = read.flatMap((mark, index) => {
    if (mark === null) return [];
    const sheet = (moved.get(index) ?? index) + 1;
    return [{ sheet, section: sections[index]!, box: mark.box }];
  });
  return { filePages, marks };
}

/** For each sheet its sides by their places in the file where everything is in order. */
function placesOf(plan: Plan): readonly (readonly number[])[] {
  const planned = sidesInOrder(plan);
  return plan.sheets.map((sheet) => planned.flatMap((side, place) => (side.sheet === sheet ? [place] : [])));
}

/** Where sheets that pages do not tell belong by their marks, from 0; none where these do not make one order. */
function untoldInOrder(
  sections: readonly (number | null)[],
  isTold: readonly boolean[],
  places: readonly (readonly number[])[],
): ReadonlyMap<number, number> {
  const moved = new Map(
    sections.flatMap((section, index) =>
      isTold[index] === true || section === null || section === index + 1 ? [] : [[index, section - 1] as const],
    ),
  );
  const isOneOrder =
    new Set(moved.values()).size === moved.size &&
    [...moved].every(([from, to]) => moved.has(to) && places[from]!.length === places[to]!.length);
  return isOneOrder ? moved : new Map();
}

/** Sheets whose mark says another section than their pages, or than their place where pages tell nothing. */
export function tellMarks(plan: Plan, marks: readonly MarkedSheet[]): readonly Finding[] {
  return marks.flatMap(({ sheet, section }): Finding[] => {
    if (section === null || section === sheet) return [];
    const side = firstSide(plan.sheets[sheet - 1]!);
    const page = Math.min(...(side?.cells ?? []).map((cell) => cell.page ?? Infinity));
    const says = `The collating mark of sheet ${sheet} is that of section ${section}, but its pages, or its place, are those of section ${sheet}.`;
    const at = Number.isFinite(page) ? page : null;
    const place = { dummyPage: at, revisionPage: at, box: null, revisionBox: null };
    return [{ kind: 'collating-mark-off', weight: 'look', ...place, measured: { sheet, marksSection: section }, says }];
  });
}
