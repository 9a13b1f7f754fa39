import { BINDINGS, Refusal, WORKINGS } from '../model/index.ts';
import type { Cell, CellTurn, Plan, PlanSheet, PlanSide } from './plan.ts';
import { requireSoundPlan } from './sound-plan.ts';

const SIDES: readonly PlanSide['side'][] = ['front', 'back', 'both'];
const READS: readonly Plan['reads'][] = ['left-to-right', 'right-to-left'];
const TURNS: readonly CellTurn[] = [0, 90, 180, 270];
/** More cells than a plan of the largest book has. */
const MOST = 20_000;
const MOST_MM = 10_000;

/** Writes a plan as plan.md has it: one line a cell, lengths to a thousandth of a millimetre. */
export function formatPlan(plan: Plan): string {
  const sheets = plan.sheets.map(({ sides, ...sheet }) => {
    const written = sides.map(({ side, cells }) => {
      const lines = cells.map((cell) => `          ${JSON.stringify(rounded(cell))}`).join(',\n');
      return `        { "side": "${side}", "cells": [\n${lines}\n        ] }`;
    });
    const own = JSON.stringify(rounded(sheet)).slice(1, -1);
    return `    { ${own}, "sides": [\n${written.join(',\n')}\n    ] }`;
  });
  const { sheets: _sheets, ...head } = plan;
  const own = JSON.stringify(rounded(head)).slice(1, -1);
  return `{ ${own},\n  "sheets": [\n${sheets.join(',\n')}\n  ]\n}\n`;
}

function rounded(value: unknown): unknown {
  if (typeof value === 'number') return Math.round(value * 1000) / 1000 + 0;
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([name, inner]) => [name, rounded(inner)]));
}

/**
 * Reads a plan back and holds it to what every plan must obey.
 *
 * @throws {Refusal} malformed: not JSON, not the form of plan.md, or a plan that `requireSoundPlan` refuses
 */
export function parsePlan(text: string): Plan {
  let given: unknown;
  try {
    given = JSON.parse(text);
  } catch (cause) {
    throw new Refusal('malformed', { pointer: 'plan', expected: 'JSON', found: 'something else' }, cause);
  }
  const head = membersOf(given, 'plan');
  oneOf(head.format, ['witnessleaf-plan/1'], 'plan/format');
  const trimmed = membersOf(head.trimmed, 'plan/trimmed');
  const plan: Plan = {
    format: 'witnessleaf-plan/1',
    pages: wholeNumber(head.pages, 'plan/pages'),
    binding: oneOf(head.binding, BINDINGS, 'plan/binding'),
    reads: oneOf(head.reads, READS, 'plan/reads'),
    trimmed: {
      width: length(trimmed.width, 'plan/trimmed/width'),
      height: length(trimmed.height, 'plan/trimmed/height'),
    },
    sheets: listOf(head.sheets, 'plan/sheets').map((sheet, index) => parseSheet(sheet, index)),
  };
  requireSoundPlan(plan);
  return plan;
}

function parseSheet(given: unknown, index: number): PlanSheet {
  const at = `plan/sheets/${index}`;
  const sheet = membersOf(given, at);
  const sheetNumber = wholeNumber(sheet.sheet, `${at}/sheet`);
  if (sheetNumber !== index + 1) throw misfit(`${at}/sheet`, `${index + 1}`, sheetNumber);
  return {
    sheet: sheetNumber,
    working: oneOf(sheet.working, WORKINGS, `${at}/working`),
    width: length(sheet.width, `${at}/width`),
    height: length(sheet.height, `${at}/height`),
    sides: listOf(sheet.sides, `${at}/sides`).map((side, nth): PlanSide => {
      const here = `${at}/sides/${nth}`;
      const members = membersOf(side, here);
      return {
        side: oneOf(members.side, SIDES, `${here}/side`),
        cells: listOf(members.cells, `${here}/cells`).map((cell, place) => parseCell(cell, `${here}/cells/${place}`)),
      };
    }),
  };
}

function parseCell(given: unknown, at: string): Cell {
  const cell = membersOf(given, at);
  const box = membersOf(cell.box, `${at}/box`);
  return {
    page: cell.page === null ? null : wholeNumber(cell.page, `${at}/page`),
    row: wholeNumber(cell.row, `${at}/row`),
    column: wholeNumber(cell.column, `${at}/column`),
    box: {
      x: number(box.x, `${at}/box/x`),
      y: number(box.y, `${at}/box/y`),
      width: length(box.width, `${at}/box/width`),
      height: length(box.height, `${at}/box/height`),
    },
    turnDeg: oneOf(cell.turnDeg, TURNS, `${at}/turnDeg`),
    creepMm: cell.creepMm === undefined ? 0 : atLeastZero(cell.creepMm, `${at}/creepMm`),
  };
}

function membersOf(given: unknown, pointer: string): Readonly<Record<string, unknown>> {
  if (typeof given === 'object' && given !== null && !Array.isArray(given)) return given as Record<string, unknown>;
  throw misfit(pointer, 'an object', given);
}

function listOf(given: unknown, pointer: string): readonly unknown[] {
  if (Array.isArray(given) && given.length > 0 && given.length <= MOST) return given;
  throw misfit(pointer, `a list of 1 to ${MOST}`, Array.isArray(given) ? given.length : given);
}

function number(given: unknown, pointer: string): number {
  if (typeof given === 'number' && Math.abs(given) <= MOST_MM) return given;
  throw misfit(pointer, 'a number', given);
}

function atLeastZero(given: unknown, pointer: string): number {
  const value = number(given, pointer);
  if (value >= 0) return value;
  throw misfit(pointer, 'a number from 0', given);
}

function length(given: unknown, pointer: string): number {
  const value = number(given, pointer);
  if (value > 0) return value;
  throw misfit(pointer, 'a length over 0', given);
}

function wholeNumber(given: unknown, pointer: string): number {
  if (typeof given === 'number' && Number.isInteger(given) && given >= 1 && given <= MOST) return given;
  throw misfit(pointer, `a whole number from 1 to ${MOST}`, given);
}

function oneOf<T extends string | number>(given: unknown, known: readonly T[], pointer: string): T {
  const found = known.find((one) => one === given);
  if (found !== undefined) return found;
  throw misfit(pointer, `one of ${known.join(', ')}`, given);
}

function misfit(pointer: string, expected: string, found: unknown): Refusal {
  return new Refusal('malformed', { pointer, expected, found: (JSON.stringify(found) ?? 'nothing').slice(0, 80) });
}
