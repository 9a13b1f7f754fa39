import type { Cells } from '../kernels/cells.ts';
import { moveCells } from '../kernels/cells.ts';
import { applyColourMap } from './colour-map.ts';
import type { ColourMap } from './colour-map.ts';

/** Bins along L*, and along a* and b*, within which a smooth map moves all colours alike to 0.3. */
const STEP_L = 100 / 128;
const STEP_AB = 3;
const FIRST_AB = -96;

/**
 * What a map makes of a picture's colours. A photograph has far fewer colours than cells: the map is asked once for each
 * bin of colours, at its middle, and moves all colours of the bin by as much.
 *
 * @param cells  their `mapped` colours become those
 */
export function applyToCells(map: ColourMap, cells: Cells): void {
  moveCells(cells, (bin, moved, at) => {
    const [l, a, b] = [(bin.l + 0.5) * STEP_L, FIRST_AB + (bin.a + 0.5) * STEP_AB, FIRST_AB + (bin.b + 0.5) * STEP_AB];
    applyColourMap(map, l, a, b, moved, at);
    moved[at]! -= l;
    moved[at + 1]! -= a;
    moved[at + 2]! -= b;
  });
}
