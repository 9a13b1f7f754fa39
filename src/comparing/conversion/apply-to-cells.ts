import type { Cells } from '../kernels/cells.ts';
import { moveCells } from '../kernels/cells.ts';
import { mapColours } from '../kernels/colour-map.ts';
import type { ColourMap } from './colour-map.ts';

/**
 * What a map makes of a picture's colours. A photograph has far fewer colours than cells: the map is asked once for each
 * bin of colours, at its middle, and moves all colours of the bin by as much. A smooth map moves all of them alike to 0.3.
 *
 * @param cells  their `mapped` colours become those
 */
export function applyToCells(map: ColourMap, cells: Cells): void {
  moveCells(cells, (middles) => mapColours(map, middles));
}
