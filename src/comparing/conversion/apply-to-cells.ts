import { applyColourMap } from './colour-map.ts';
import type { ColourMap } from './colour-map.ts';

/** Bins along L*, and along a* and b*: 0.8 and 3 wide, within which a smooth map moves all colours alike to 0.3. */
const BINS_L = 128;
const BINS_AB = 64;
const STEP_L = 100 / BINS_L;
const STEP_AB = 3;
/** Least a* and b* of the first bin; what lies beyond either end counts to it. */
const FIRST_AB = (-BINS_AB / 2) * STEP_AB;
const BINS = BINS_L * BINS_AB * BINS_AB;

// kept between calls: a page has a million cells, and clean memory is dear
const moved = new Float32Array(BINS * 3);
const known = new Uint8Array(BINS);

/**
 * What a map makes of many colours. A photograph has far fewer colours than cells: the map is asked once for each bin
 * of colours, at its middle, and moves all colours of the bin by as much.
 *
 * @param lab  three numbers a cell
 * @param speaks  0 leaves a cell out
 * @param out  as long as `lab`; cells left out stay as they are
 */
export function applyToCells(map: ColourMap, lab: Float32Array, speaks: Uint8Array, out: Float32Array): void {
  known.fill(0);
  for (let cell = 0, at = 0; cell < speaks.length; cell++, at += 3) {
    if (speaks[cell] === 0) continue;
    const [l, a, b] = [lab[at]!, lab[at + 1]!, lab[at + 2]!];
    const x = binOf(l / STEP_L, BINS_L);
    const y = binOf((a - FIRST_AB) / STEP_AB, BINS_AB);
    const z = binOf((b - FIRST_AB) / STEP_AB, BINS_AB);
    const bin = (x * BINS_AB + y) * BINS_AB + z;
    if (known[bin] === 0) learn(map, bin, x, y, z);
    out[at] = l + moved[bin * 3]!;
    out[at + 1] = a + moved[bin * 3 + 1]!;
    out[at + 2] = b + moved[bin * 3 + 2]!;
  }
}

function binOf(place: number, bins: number): number {
  return place <= 0 ? 0 : place >= bins ? bins - 1 : place | 0;
}

function learn(map: ColourMap, bin: number, x: number, y: number, z: number): void {
  const [l, a, b] = [(x + 0.5) * STEP_L, FIRST_AB + (y + 0.5) * STEP_AB, FIRST_AB + (z + 0.5) * STEP_AB];
  applyColourMap(map, l, a, b, moved, bin * 3);
  moved[bin * 3]! -= l;
  moved[bin * 3 + 1]! -= a;
  moved[bin * 3 + 2]! -= b;
  known[bin] = 1;
}
