import { describe, expect, it } from 'vitest';
import { readPlateNames } from '../../../src/plates/separations/plate-name.ts';

const told = (...files: string[]): (string | null)[][] =>
  [...readPlateNames(files).values()].map(({ set, ink }) => [set, ink]);

describe('the name of a plate tells its side and its ink', () => {
  it.each([
    ['sheet1_front(Cyan).tif', 'sheet1 front', 'cyan'],
    ['sheet1_front (Process Black).tiff', 'sheet1 front', 'black'],
    ['sheet1_front-C.tif', 'sheet1 front', 'cyan'],
    ['Sheet 1 front.M.TIF', 'sheet 1 front', 'magenta'],
    ['S01_B_Y.tif', 's01 b', 'yellow'],
    ['sheet1_back_k.tif', 'sheet1 back', 'black'],
    ['Magenta_sheet2.tif', 'sheet2', 'magenta'],
    ['sheet 2/Yellow.tif', 'sheet 2', 'yellow'],
    ['sheet1_front[PANTONE 185 C].tif', 'sheet1 front', 'PANTONE 185 C'],
  ])('%s', (file, set, ink) => {
    expect(told(file)).toEqual([[set, ink]]);
  });

  it('what stands after the name of a known side is a spot colour', () => {
    expect(told('s1_front_C.tif', 's1_front_Orange 021.tif', 's1_front_PANTONE 185 C.tif')).toEqual([
      ['s1 front', 'cyan'],
      ['s1 front', 'Orange 021'],
      ['s1 front', 'PANTONE 185 C'],
    ]);
  });

  it('a name without an ink tells none, and the b of a back is not black', () => {
    expect(told('sheet1_front.tif', 'sheet1_b.tif')).toEqual([
      ['sheet1 front', null],
      ['sheet1 b', null],
    ]);
  });
});
