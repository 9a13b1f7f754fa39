import type { LaidOver } from './lay-over.ts';

/**
 * What a smooth colour map leaves over for each shade of a picture, as a small table over L*, a*, b*: conversions bend
 * sharply at the ends of a gamut, the same way wherever the shade occurs. Bounded, since a shade that occurs in one place
 * only might be a retouched patch.
 */
export interface ShadeLeftovers {
  /** Three numbers a shade: what to add to the mapped L*, a*, b*. */
  readonly table: Float32Array;
  /** The shade of each cell. */
  readonly shades: Uint16Array;
}

const STEP = 10;
const SIDE_L = 11;
/** a* and b* from -75 to 75; what lies beyond counts to the last shade. */
const SIDE_AB = 16;
const SHADES = SIDE_L * SIDE_AB * SIDE_AB;
/** A leftover larger than this is not put down to the conversion. */
const MOST = 6;
/** A shade with so few cells is believed by half. */
const HALF_BELIEVED = 12;

/** Index of the shade that a colour of the dummy falls in. */
export function shadeOf(l: number, a: number, b: number): number {
  const x = nearest(l, SIDE_L);
  const y = nearest(a + 75, SIDE_AB);
  const z = nearest(b + 75, SIDE_AB);
  return (x * SIDE_AB + y) * SIDE_AB + z;
}

function nearest(distance: number, side: number): number {
  const step = distance / STEP + 0.5;
  return step <= 0 ? 0 : step >= side ? side - 1 : step | 0;
}

/**
 * Learns the leftovers of a picture from its cells.
 *
 * @param mapped  the dummy's colours as the map has them, three numbers a cell
 */
export function learnLeftovers({ dummy, revision, speaks }: LaidOver, mapped: Float32Array): ShadeLeftovers {
  const sum = new Float64Array(SHADES * 3);
  const count = new Float64Array(SHADES);
  const shades = new Uint16Array(speaks.length);
  for (let cell = 0, at = 0; cell < speaks.length; cell++, at += 3) {
    if (speaks[cell] === 0) continue;
    const shade = shadeOf(dummy[at]!, dummy[at + 1]!, dummy[at + 2]!);
    shades[cell] = shade;
    let [l, a, b] = [
      revision[at]! - mapped[at]!,
      revision[at + 1]! - mapped[at + 1]!,
      revision[at + 2]! - mapped[at + 2]!,
    ];
    const size = Math.sqrt(l * l + a * a + b * b);
    if (size > 2 * MOST) [l, a, b] = [(l * 2 * MOST) / size, (a * 2 * MOST) / size, (b * 2 * MOST) / size];
    sum[shade * 3]! += l;
    sum[shade * 3 + 1]! += a;
    sum[shade * 3 + 2]! += b;
    count[shade]!++;
  }
  const table = new Float32Array(SHADES * 3);
  for (let shade = 0; shade < SHADES; shade++) {
    if (count[shade] === 0) continue;
    const believed = 1 / (count[shade]! + HALF_BELIEVED);
    const size = believed * Math.hypot(sum[shade * 3]!, sum[shade * 3 + 1]!, sum[shade * 3 + 2]!);
    const kept = size > MOST ? (believed * MOST) / size : believed;
    for (let k = 0; k < 3; k++) table[shade * 3 + k] = sum[shade * 3 + k]! * kept;
  }
  return { table, shades };
}
