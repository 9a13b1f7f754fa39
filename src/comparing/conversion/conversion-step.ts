import type { PageSignature } from '../../model/index.ts';
import { labFromSrgbBytes } from '../colour/lab.ts';
import { applyColourMap } from './colour-map.ts';
import type { ColourMap } from './colour-map.ts';

/** Cells that are looked at of each page. */
const CELLS_A_PAGE = 64;

/**
 * How far apart two conversions are on the colours that a book has.
 *
 * @param pages  of the dummy
 * @returns the largest distance in CIELAB of what they make of one colour; 0 where no page speaks
 */
export function conversionStep(one: ColourMap, other: ColourMap, pages: readonly PageSignature[]): number {
  const [mapped, against] = [new Float32Array(3), new Float32Array(3)];
  let most = 0;
  for (const { cells } of pages) {
    const lab = new Float32Array(cells.length);
    labFromSrgbBytes(cells, lab);
    const stride = 3 * Math.max(1, Math.floor(cells.length / 3 / CELLS_A_PAGE));
    for (let at = 0; at < lab.length; at += stride) {
      applyColourMap(one, lab[at]!, lab[at + 1]!, lab[at + 2]!, mapped, 0);
      applyColourMap(other, lab[at]!, lab[at + 1]!, lab[at + 2]!, against, 0);
      const step = Math.hypot(mapped[0]! - against[0]!, mapped[1]! - against[1]!, mapped[2]! - against[2]!);
      if (step > most) most = step;
    }
  }
  return most;
}
