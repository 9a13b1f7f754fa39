import { EVEN_VARIANCE, FAR_COLOUR, SOURCES } from './descriptor.ts';
import type { Descriptor } from './descriptor.ts';

/**
 * What of two pages' looks a conversion cannot explain: each page's colours are predicted from the other's by a bent
 * tone curve and a mixing of channels (least squares), and what remains is taken as a share of all there is to see.
 * Both ways round, so that a colour picture is not explained by its grey version.
 *
 * @returns 0 the same page, 1 nothing in common; the same with roles swapped
 */
export function unexplained(one: Descriptor, other: Descriptor): number {
  const cells = one.bend.length;
  const [a0, a1, a2] = one.planes;
  const [b0, b1, b2] = other.planes;
  const [ab, bb] = [one.bend, other.bend];
  let p00 = 0;
  let p01 = 0;
  let p02 = 0;
  let p10 = 0;
  let p11 = 0;
  let p12 = 0;
  let p20 = 0;
  let p21 = 0;
  let p22 = 0;
  let ab0 = 0;
  let ab1 = 0;
  let ab2 = 0;
  let bb0 = 0;
  let bb1 = 0;
  let bb2 = 0;
  // One pass with scalars: as a matrix product it took four times as long.
  for (let cell = 0; cell < cells; cell++) {
    const x0 = a0[cell]!;
    const x1 = a1[cell]!;
    const x2 = a2[cell]!;
    const y0 = b0[cell]!;
    const y1 = b1[cell]!;
    const y2 = b2[cell]!;
    const xb = ab[cell]!;
    const yb = bb[cell]!;
    p00 += x0 * y0;
    p01 += x0 * y1;
    p02 += x0 * y2;
    p10 += x1 * y0;
    p11 += x1 * y1;
    p12 += x1 * y2;
    p20 += x2 * y0;
    p21 += x2 * y1;
    p22 += x2 * y2;
    ab0 += xb * y0;
    ab1 += xb * y1;
    ab2 += xb * y2;
    bb0 += yb * x0;
    bb1 += yb * x1;
    bb2 += yb * x2;
  }
  const explained =
    explainedBy(one, [p00, ab0, p10, p20], [p01, ab1, p11, p21], [p02, ab2, p12, p22]) +
    explainedBy(other, [p00, bb0, p01, p02], [p10, bb1, p11, p12], [p20, bb2, p21, p22]);
  const left = Math.max(0, one.energy + other.energy - explained);
  const shape = left / (one.energy + other.energy + 2 * EVEN_VARIANCE * cells);
  return 1 - (1 - Math.min(1, shape)) * (1 - colourStep(one, other));
}

/**
 * Mean colours so far apart that no conversion brought one to the other. It decides between even pages; where there is
 * structure, a darker or paler conversion hardly counts.
 */
function colourStep(one: Descriptor, other: Descriptor): number {
  const [a, b] = [one.means, other.means];
  const step2 = (a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2 + (a[2] - b[2]) ** 2;
  const structure = Math.max(one.energy, other.energy) / one.bend.length;
  const evenness = STRUCTURED_VARIANCE / (structure + STRUCTURED_VARIANCE);
  return Math.min(1, step2 / FAR_COLOUR ** 2) * (0.1 + 0.9 * evenness);
}

/** Squared levels of 255 a cell: half of the say passes from colour to structure here. */
const STRUCTURED_VARIANCE = 100;

/** Energy of three target planes that lies within the span of the sources; each list holds sources times one target. */
function explainedBy(
  { toUnit }: Descriptor,
  ...targets: readonly (readonly [number, number, number, number])[]
): number {
  let sum = 0;
  for (const [s0, s1, s2, s3] of targets) {
    for (let at = 0; at < SOURCES * SOURCES; at += SOURCES) {
      const along = toUnit[at]! * s0 + toUnit[at + 1]! * s1 + toUnit[at + 2]! * s2 + toUnit[at + 3]! * s3;
      sum += along * along;
    }
  }
  return sum;
}
