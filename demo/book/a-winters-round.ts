import { FORMAT } from './grid.ts';
import { flatsAndSmallThings } from './pages/flats-and-small-things.ts';
import { harbourPages } from './pages/harbour.ts';
import { mapPage } from './pages/map.ts';
import { mountainAndAirPages } from './pages/mountains-and-air.ts';
import { openingPages } from './pages/opening.ts';
import type { BookSpec } from './spec.ts';

const CONTENTS: readonly (readonly [string, number])[] = [
  ['The Box', 7],
  ['The Round', 9],
  ['The Pass', 12],
  ['From Above', 17],
  ['The Harbour', 18],
  ['The Flats', 22],
  ['Small Matters', 28],
  ['Plates', 31],
];

/** The demonstration book: thirty-two pages about a man who carried a magic lantern from village to village. */
export function winterBook(): BookSpec {
  return {
    title: 'A Winter’s Round',
    author: 'Věra Ansgård',
    trimMm: { width: FORMAT.width, height: FORMAT.height },
    bleedMm: FORMAT.bleed,
    pages: [
      ...openingPages(CONTENTS),
      mapPage(),
      ...mountainAndAirPages(),
      ...harbourPages(),
      ...flatsAndSmallThings(),
    ],
  };
}
