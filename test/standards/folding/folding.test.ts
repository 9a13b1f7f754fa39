import { describe, expect, it } from 'vitest';
import { foldSheet, makePlan, parseFolds } from '../../../src/plates/index.ts';
import { layoutRows } from '../../plates/layout-rows.ts';
import { spinePairs } from '../../plates/spine-pairs.ts';
import { nameOf, readProbes } from '../probe.ts';

interface Layout {
  readonly front: readonly string[];
  readonly back: readonly string[];
}

const layouts = readProbes<{ folds: string }, Layout>(new URL('layouts.json', import.meta.url));
const pairs = readProbes<{ pages: number; section: number }, (number | null)[]>(
  new URL('spine-pairs.json', import.meta.url),
);

describe('folding a sheet puts pages where published layouts have them', () => {
  it('6 layouts and 5 orders of spine pairs are there', () => expect([layouts.length, pairs.length]).toEqual([6, 5]));

  it.each(layouts.map((probe) => [nameOf(probe), probe] as const))('%s', (_, { given, expected }) => {
    const sheet = foldSheet(parseFolds(given.folds));
    expect({ front: layoutRows(sheet, 'front'), back: layoutRows(sheet, 'back') }).toEqual(expected);
  });

  it.each(pairs.map((probe) => [nameOf(probe), probe] as const))('%s', (_, { given, expected }) => {
    const sections = Array.from({ length: given.pages / given.section }, () => given.section);
    expect(sections.flatMap((size, index) => spinePairs(size, index * size))).toEqual(expected);
  });

  it('the 16 pages that a pstops line of three folds sets stand where the plan has them', () => {
    // psutils 1.17, run: outer forme 5U 12U 9U 8U over 4 13 16 1, inner 7U 10U 11U 6U over 2 15 14 3 (pages from 1)
    const plan = makePlan({
      pages: 16,
      trimmed: { width: 148.17, height: 209.9 },
      binding: 'sewn',
      sections: [{ pages: 16 }],
      trims: { headMm: 0, footMm: 0, faceMm: 0, marginMm: 0 },
    });
    const told = plan.sheets[0]!.sides.map(({ cells }) =>
      cells.map(({ page, turnDeg }) => `${page}${turnDeg === 180 ? 'U' : ''}`),
    );
    expect(told).toEqual([
      ['5U', '12U', '9U', '8U', '4', '13', '16', '1'],
      ['7U', '10U', '11U', '6U', '2', '15', '14', '3'],
    ]);
  });
});
