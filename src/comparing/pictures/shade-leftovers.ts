import type { Cells } from '../kernels/cells.ts';
import { sumLeftovers } from '../kernels/cells.ts';

/** A leftover larger than this is not put down to the conversion. */
const MOST = 6;
/** A shade with so few cells is believed by half. */
const HALF_BELIEVED = 12;

/**
 * Learns what a smooth colour map leaves over for each shade of a picture: conversions bend sharply at the ends of a gamut,
 * the same way wherever the shade occurs. Bounded, since a shade that occurs in one place only might be a retouched patch.
 *
 * @param cells  mapped; each gets its shade, and their table what to add to the mapped L*, a*, b* of each
 */
export function learnLeftovers(cells: Cells): void {
  const sums = sumLeftovers(cells, 2 * MOST);
  const { table } = cells;
  table.fill(0);
  for (let from = 0, to = 0; from < sums.length; from += 4, to += 3) {
    const count = sums[from + 3]!;
    if (count === 0) continue;
    const believed = 1 / (count + HALF_BELIEVED);
    const size = believed * Math.hypot(sums[from]!, sums[from + 1]!, sums[from + 2]!);
    const kept = size > MOST ? (believed * MOST) / size : believed;
    for (let k = 0; k < 3; k++) table[to + k] = sums[from + k]! * kept;
  }
}
