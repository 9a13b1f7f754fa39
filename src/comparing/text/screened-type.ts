import type { Box, CoarseScreens, PageRaster, ProcessInk } from '../../model/index.ts';
import { PROCESS_INKS } from '../../model/index.ts';
import { measureInk } from './word-ink.ts';

/**
 * Rows of dots an inch at which `LEAST_PLATE_INK_PX` was measured. What dots leave of a letter's edge grows with their size:
 * 25 words in seven tenths of black left at most 0.51 pixels of ink at 150 and 1.20 at 65 (test/evaluation/sheets).
 */
const MEASURED_LPI = 150;
/** Shares of full ink in a channel, under which there is none, and over which it is solid: black as screens show it is 0.87. */
const TINT = { least: 0.1, most: 0.7 };
/** Which channels of red, green and blue an ink darkens. Yellow hardly shows in luma, by which type is judged. */
const DARKENS: Readonly<Record<ProcessInk, readonly number[]>> = {
  cyan: [0],
  magenta: [1],
  yellow: [],
  black: [0, 1, 2],
};

/**
 * How many times as much ink a coarse screen adds to type or takes from it as a usual one does: type in a tint, or on one, is
 * broken up by the dots, and what is no larger than they are cannot be told from them. Solid type on paper has no dots.
 *
 * @param dummy  shows the type as it was meant, unscreened
 * @param box    around the type, with a rim
 * @returns 1 where no coarse screen breaks it up
 */
export function timesMoreInk(dummy: PageRaster, box: Box, coarse: CoarseScreens): number {
  const rulings = PROCESS_INKS.flatMap((ink) => {
    const lpi = coarse[ink];
    return lpi === undefined || DARKENS[ink].length === 0 ? [] : [{ lpi, channels: DARKENS[ink] }];
  });
  if (rulings.length === 0) return 1;
  const { paper, peak } = measureInk(dummy, box);
  const letters = paper.map((level, channel) => level - peak[channel]!);
  const isTint = (levels: readonly number[], channels: readonly number[]): boolean =>
    channels.every((channel) => {
      const ink = 1 - levels[channel]! / 255;
      return ink > TINT.least && ink < TINT.most;
    });
  const dotted = rulings.filter(({ channels }) => isTint(letters, channels) || isTint(paper, channels));
  return Math.max(1, ...dotted.map(({ lpi }) => MEASURED_LPI / lpi));
}
