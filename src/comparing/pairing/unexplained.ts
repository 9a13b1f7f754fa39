import { productsOf } from '../kernels/looks.ts';
import { CELLS, EVEN_VARIANCE, FAR_COLOUR, SOURCES } from './descriptor.ts';
import type { Descriptor } from './descriptor.ts';

/**
 * What of two pages' looks a conversion cannot explain: each page's colours are predicted from the other's by a bent
 * tone curve and a mixing of channels (least squares), and what remains is taken as a share of all there is to see.
 * Both ways round, so that a colour picture is not explained by its grey version.
 *
 * @returns 0 the same page, 1 nothing in common; the same with roles swapped
 */
export function unexplained(one: Descriptor, other: Descriptor): number {
  const p = productsOf(one.all, other.all);
  let ofOther = 0;
  let ofOne = 0;
  // For each plane of the one page the products with light, bend, blue and red of the other, and the other way round.
  for (const at of [0, 1, 2]) ofOther = withExplained(ofOther, one.toUnit, p[at]!, p[12 + at]!, p[4 + at]!, p[8 + at]!);
  for (const at of [0, 4, 8]) ofOne = withExplained(ofOne, other.toUnit, p[at]!, p[at + 3]!, p[at + 1]!, p[at + 2]!);
  const left = Math.max(0, one.energy + other.energy - (ofOther + ofOne));
  const shape = left / (one.energy + other.energy + 2 * EVEN_VARIANCE * CELLS);
  return 1 - (1 - Math.min(1, shape)) * (1 - colourStep(one, other));
}

/**
 * Mean colours so far apart that no conversion brought one to the other. It decides between even pages; where there is
 * structure, a darker or paler conversion hardly counts.
 */
function colourStep(one: Descriptor, other: Descriptor): number {
  const [a, b] = [one.means, other.means];
  const step2 = (a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2 + (a[2] - b[2]) ** 2;
  const structure = Math.max(one.energy, other.energy) / CELLS;
  const evenness = STRUCTURED_VARIANCE / (structure + STRUCTURED_VARIANCE);
  return Math.min(1, step2 / FAR_COLOUR ** 2) * (0.1 + 0.9 * evenness);
}

/** Squared levels of 255 a cell: half of the say passes from colour to structure here. */
const STRUCTURED_VARIANCE = 100;

/** A sum with the energy of a target plane that lies within the sources' span, by the products of target and sources. */
function withExplained(
  before: number,
  toUnit: Float64Array,
  ...[light, bend, blue, red]: readonly [number, number, number, number]
): number {
  let sum = before;
  for (let at = 0; at < SOURCES * SOURCES; at += SOURCES) {
    const along = toUnit[at]! * light + toUnit[at + 1]! * bend + toUnit[at + 2]! * blue + toUnit[at + 3]! * red;
    sum += along * along;
  }
  return sum;
}
