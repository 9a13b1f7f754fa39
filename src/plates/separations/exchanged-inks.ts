import type { ProcessInk } from '../../model/index.ts';
import type { InkGrid } from './ink-grid.ts';

/** A cell tells two orders of inks apart where they print it so far from each other, in levels of one channel. */
const APART = 20;
/** So many cells, of a square millimetre, must tell. */
const LEAST_CELLS = 8;
/** Where they tell, the colours as named must be further off the dummy's by this factor and this many levels a channel. */
const CLEARLY = { timesWorse: 1.5, levels: 6 };

/**
 * A picture with a cast is nearer to its colours in another order of inks, but less so in what varies within it: 1.21 times
 * as much is left of it then. Of 39 pairs of plates of eight sides that were exchanged it was 0.14 to 0.99 times
 * (test/evaluation/sheets).
 */
const AS_FAITHFUL = 1.05;
/** Under a level nothing is left but rounding: a tint of one colour is told by how far off it is alone. */
const ROUNDING = 1;

/** A process ink with what its plate has over a side's pages. */
export interface InkedPlate {
  readonly ink: ProcessInk;
  readonly grid: InkGrid;
}

/**
 * Which ink each plate really shows: the order of inks that prints the dummy's colours. As named, unless another order is
 * clearly better; where pages are grey, exchanged inks print nearly the same, and nothing is told.
 *
 * @param plates  each of another ink
 * @param colours  the dummy's, three bytes a cell of the grids
 * @returns the ink that each plate shows, in the order given
 */
export function shownInks(plates: readonly InkedPlate[], colours: Uint8Array): readonly ProcessInk[] {
  const named = plates.map(({ ink }) => ink);
  const asNamed = printed(plates, named, colours.length / 3);
  let best = { inks: named, gain: 0 };
  for (const inks of orders(named)) {
    const gain = gainOf(printed(plates, inks, colours.length / 3), asNamed, colours);
    if (gain > best.gain) best = { inks: [...inks], gain };
  }
  return best.inks;
}

/** By how many levels, over all cells that tell the two apart, the one is nearer to the dummy; 0 where it is not clearly. */
function gainOf(shown: Uint8ClampedArray, asNamed: Uint8ClampedArray, colours: Uint8Array): number {
  const telling: number[] = [];
  let [off, offAsNamed] = [0, 0];
  for (let at = 0; at < colours.length; at += 3) {
    let apart = 0;
    for (let k = at; k < at + 3; k++) apart = Math.max(apart, Math.abs(shown[k]! - asNamed[k]!));
    if (apart < APART) continue;
    telling.push(at);
    for (let k = at; k < at + 3; k++) {
      off += Math.abs(shown[k]! - colours[k]!);
      offAsNamed += Math.abs(asNamed[k]! - colours[k]!);
    }
  }
  const gain = offAsNamed - off;
  const clearly = offAsNamed >= CLEARLY.timesWorse * off && gain >= CLEARLY.levels * 3 * telling.length;
  if (telling.length < LEAST_CELLS || !clearly) return 0;
  const leftAsNamed = Math.max(ROUNDING, untold(asNamed, colours, telling));
  return untold(shown, colours, telling) > AS_FAITHFUL * leftAsNamed ? 0 : gain;
}

/**
 * How much of the dummy's colours is left untold where every channel may be paler or darker as a whole, as a cast makes it:
 * the root of the mean square, in levels.
 *
 * @param cells  where each cell's three bytes begin
 * @source least squares of a line in each channel
 */
function untold(shown: Uint8ClampedArray, colours: Uint8Array, cells: readonly number[]): number {
  let left = 0;
  for (let k = 0; k < 3; k++) {
    let [x, y, xx, yy, xy] = [0, 0, 0, 0, 0];
    for (const at of cells) {
      const [p, q] = [shown[at + k]!, colours[at + k]!];
      x += p;
      y += q;
      xx += p * p;
      yy += q * q;
      xy += p * q;
    }
    const n = cells.length;
    const [varies, together] = [xx - (x * x) / n, Math.max(0, xy - (x * y) / n)];
    left += yy - (y * y) / n - (varies > 0 ? together ** 2 / varies : 0);
  }
  return Math.sqrt(Math.max(0, left) / cells.length / 3);
}

/**
 * What the plates print if they are of these inks, as the plainest mixture of inks has it: each takes away its complement.
 */
function printed(plates: readonly InkedPlate[], inks: readonly ProcessInk[], cells: number): Uint8ClampedArray {
  const gridOf = (ink: ProcessInk): InkGrid | null => plates[inks.indexOf(ink)]?.grid ?? null;
  const three = (['cyan', 'magenta', 'yellow'] as const).map(gridOf);
  const black = gridOf('black');
  const rgb = new Uint8ClampedArray(cells * 3);
  for (let at = 0; at < cells; at++) {
    const paper = 255 - (black?.[at] ?? 0);
    for (let channel = 0; channel < 3; channel++) {
      rgb[at * 3 + channel] = (paper * (255 - (three[channel]?.[at] ?? 0))) / 255;
    }
  }
  return rgb;
}

function* orders<T>(items: readonly T[]): Generator<readonly T[]> {
  if (items.length <= 1) {
    yield items;
    return;
  }
  for (const [index, first] of items.entries()) {
    for (const rest of orders(items.filter((_, at) => at !== index))) yield [first, ...rest];
  }
}
