import type { ProcessInk } from '../../model/index.ts';

/**
 * How much of an ink a colour asks for, 0 to 255, as the plainest separation has it: each ink takes away its complement.
 * Real separations replace grey by black to any degree, so this only tells where ink is, not how much.
 */
export function inkDemand(ink: ProcessInk, red: number, green: number, blue: number): number {
  switch (ink) {
    case 'cyan':
      return 255 - red;
    case 'magenta':
      return 255 - green;
    case 'yellow':
      return 255 - blue;
    case 'black':
      return 255 - Math.max(red, green, blue);
  }
}

/** From here on a colour cannot be printed without the ink. */
const COLOURED = 36;
const DARK = { most: 235, grey: 30 };
/** So many cells, each of a square millimetre: less may be a rim that drawing leaves. */
const LEAST_CELLS = 20;

/**
 * Whether a side cannot be printed without an ink: its pages show a colour that no other ink gives; for black, greys.
 *
 * @param colours  of its pages, three bytes a square millimetre
 */
export function needsInk(ink: ProcessInk, colours: Uint8Array): boolean {
  let cells = 0;
  for (let at = 0; at < colours.length && cells < LEAST_CELLS; at += 3) {
    const [red, green, blue] = [colours[at]!, colours[at + 1]!, colours[at + 2]!];
    const most = Math.max(red, green, blue);
    const isGrey = most - Math.min(red, green, blue) < DARK.grey && most < DARK.most;
    const own = { cyan: red, magenta: green, yellow: blue, black: 0 }[ink];
    if (ink === 'black' ? isGrey : most - own >= COLOURED) cells += 1;
  }
  return cells >= LEAST_CELLS;
}
