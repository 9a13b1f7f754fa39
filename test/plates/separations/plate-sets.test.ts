import { describe, expect, it } from 'vitest';
import type { Refusal } from '../../../src/model/index.ts';
import { plateSets, type NamedPlate } from '../../../src/plates/index.ts';

const plate = (file: string, width = 500, more: Partial<NamedPlate> = {}): NamedPlate => ({
  file,
  width,
  height: 700,
  inkName: null,
  setName: null,
  ...more,
});
const sets = (...plates: NamedPlate[]) =>
  plateSets(plates).map(({ name, plates: own, doubled, strange }) => ({
    name,
    inks: own.map(({ ink }) => ink),
    doubled: doubled.map(({ plate: { file } }) => file),
    strange: strange.map(({ plate: { file } }) => file),
  }));

describe('plates are put together into sides', () => {
  it('by name, sheets by their number, front before back, inks in their order, spot colours after them', () => {
    const files = ['s10_front', 's2_back', 's2_front'].flatMap((set) =>
      ['Gold', 'Black', 'Cyan', 'Yellow', 'Magenta'].map((ink) => plate(`${set}(${ink}).tif`)),
    );
    const inks = ['cyan', 'magenta', 'yellow', 'black', 'Gold'];
    expect(sets(...files)).toEqual(
      ['s2_front', 's2_back', 's10_front'].map((name) => ({ name, inks, doubled: [], strange: [] })),
    );
  });

  it('with a further file for an ink, and one of another size, set apart', () => {
    expect(sets(plate('a_C.tif'), plate('a_M.tif'), plate('a(Cyan).tif'), plate('a_Y.tif', 480))).toEqual([
      { name: 'a', inks: ['cyan', 'magenta'], doubled: ['a(Cyan).tif'], strange: ['a_Y.tif'] },
    ]);
  });

  it('by what the file says, where it says more than its name', () => {
    const pages = ['Cyan', 'Black', 'Gold'].map((inkName, at) =>
      plate(`plates.pdf, page ${at + 1}`, 500, { inkName, setName: 'side 1' }),
    );
    expect(sets(...pages)).toEqual([{ name: 'side 1', inks: ['cyan', 'black', 'Gold'], doubled: [], strange: [] }]);
  });

  it.each<[string, NamedPlate[], object]>([
    [
      'as many plates of one size as of another',
      [plate('a_C.tif'), plate('a_M.tif', 480)],
      { pointer: 'a', expected: 'plates of one size', found: expect.stringContaining('480.0 × 700.0 mm') as unknown },
    ],
    ['a plate that tells no ink', [plate('sheet1.tif')], { pointer: 'sheet1.tif', found: 'none' }],
  ])('refused: %s', (_, plates, details) => {
    const refusal = (() => {
      try {
        return plateSets(plates);
      } catch (error) {
        return error as Refusal;
      }
    })();
    expect(refusal).toMatchObject({ kind: 'malformed', details });
  });
});
