import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Patch } from '../../../src/comparing/regions/connected.ts';
import { findPatches, STRONG, WEAK } from '../../../src/comparing/regions/connected.ts';

const settings = { seed: 20261125, numRuns: 150 };

interface Field {
  readonly width: number;
  readonly height: number;
  readonly marks: Uint8Array;
}

const field: fc.Arbitrary<Field> = fc
  .tuple(fc.integer({ min: 1, max: 14 }), fc.integer({ min: 1, max: 14 }))
  .chain(([width, height]) =>
    fc
      .array(fc.constantFrom(0, 0, 0, WEAK, STRONG), { minLength: width * height, maxLength: width * height })
      .map((marks) => ({ width, height, marks: Uint8Array.from(marks) })),
  );
const reach = fc.integer({ min: 1, max: 3 });

/** The plain twin: every marked cell starts alone, and neighbours join until nothing joins any more. */
function joinedByHand({ width, marks }: Field, near: number): Patch[] {
  const cells = [...marks.keys()].filter((cell) => marks[cell] !== 0);
  const group = new Map(cells.map((cell) => [cell, cell]));
  const touch = (one: number, other: number) =>
    Math.abs((one % width) - (other % width)) <= near &&
    Math.abs(Math.floor(one / width) - Math.floor(other / width)) <= near;
  for (let joined = true; joined;) {
    joined = false;
    for (const one of cells) {
      for (const other of cells) {
        if (group.get(one)! <= group.get(other)! || !touch(one, other)) continue;
        group.set(one, group.get(other)!);
        joined = true;
      }
    }
  }
  const members = Map.groupBy(cells, (cell) => group.get(cell)!);
  return [...members.values()]
    .map((all) => {
      const columns = all.map((cell) => cell % width);
      const rows = all.map((cell) => Math.floor(cell / width));
      return {
        left: Math.min(...columns),
        top: Math.min(...rows),
        right: Math.max(...columns) + 1,
        bottom: Math.max(...rows) + 1,
        cells: all.length,
        strong: all.filter((cell) => marks[cell] === STRONG).length,
      };
    })
    .filter(({ strong }) => strong > 0);
}

const inOneOrder = (patches: readonly Patch[]) => patches.map((patch) => JSON.stringify(patch)).sort();

describe('patches of marked cells', () => {
  it('are those that joining neighbours one by one gives, if they hold a strong cell', () => {
    fc.assert(
      fc.property(field, reach, (given, near) => {
        const found = findPatches(given.marks, given.width, given.height, near);
        expect(inOneOrder(found)).toEqual(inOneOrder(joinedByHand(given, near)));
      }),
      settings,
    );
  });

  it('come with the larger ones first, and leave the marks as they were', () => {
    fc.assert(
      fc.property(field, (given) => {
        const before = Uint8Array.from(given.marks);
        const sizes = findPatches(given.marks, given.width, given.height).map(({ cells }) => cells);
        expect(sizes).toEqual([...sizes].sort((one, other) => other - one));
        expect(given.marks).toEqual(before);
      }),
      settings,
    );
  });

  it('grow together, and never in number, when more may lie between', () => {
    fc.assert(
      fc.property(field, ({ marks, width, height }) => {
        const counts = [1, 2, 3].map((near) => findPatches(marks, width, height, near).length);
        expect(counts).toEqual([...counts].sort((one, other) => other - one));
      }),
      settings,
    );
  });
});

describe('a field drawn by hand', () => {
  const drawn = (rows: readonly string[]) => ({
    width: rows[0]!.length,
    height: rows.length,
    marks: Uint8Array.from([...rows.join('')].map((sign) => (sign === '#' ? STRONG : sign === '+' ? WEAK : 0))),
  });

  it('has a patch with its faint rim, one that touches by a corner, and no patch of faint cells alone', () => {
    const { marks, width, height } = drawn([
      '.++......', //
      '.+##...++',
      '....#....',
      '.........',
      '#........',
    ]);
    expect(findPatches(marks, width, height)).toEqual([
      { left: 1, top: 0, right: 5, bottom: 3, cells: 6, strong: 3 },
      { left: 0, top: 4, right: 1, bottom: 5, cells: 1, strong: 1 },
    ]);
  });

  it('does not join the end of a row with the beginning of the next', () => {
    const { marks, width, height } = drawn(['...#', '#...']);
    expect(findPatches(marks, width, height)).toHaveLength(2);
  });

  it('with nothing on it has none', () => {
    expect(findPatches(new Uint8Array(12), 4, 3)).toEqual([]);
  });
});
