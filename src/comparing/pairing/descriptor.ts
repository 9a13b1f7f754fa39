import { SIGNATURE_SIDE } from '../../model/index.ts';
import type { PageSignature } from '../../model/index.ts';
import { levelPlanes, shrinkPlanes } from '../kernels/looks.ts';
import type { QuarterTurn } from './page-view.ts';

const SIDE = SIGNATURE_SIDE;
/** Cells of a signature. */
export const CELLS = SIDE * SIDE;

/** Variance a cell, in squared levels of 255, that an even page has from rounding and compression; it never counts as structure. */
export const EVEN_VARIANCE = 6;
/** A distance between mean colours, in levels of 255, that no conversion makes: at it two even pages are unlike. */
export const FAR_COLOUR = 90;
/** Length of the coarse vector: luminance at half the signature's resolution, two colour planes at a quarter, the mean colour, a zero. */
const COARSE_LENGTH = 16 * 16 + 2 * 8 * 8 + 3 + 1;
/** Planes the colours of another page are explained from: luminance, its square, blue and red difference. */
export const SOURCES = 4;

/** A signature made ready for comparing. Planes: luminance, blue difference, red difference, less their means. */
export interface Descriptor {
  readonly planes: readonly [Float32Array, Float32Array, Float32Array];
  /** The three planes and luminance squared, scaled to levels, less its mean, one behind the other: lets a tone curve bend. */
  readonly all: Float32Array;
  readonly means: readonly [number, number, number];
  /** Sum of squares of the three planes. */
  readonly energy: number;
  /** Rows that turn the sources into unit vectors at right angles to each other; a row of zeros where a source adds nothing. */
  readonly toUnit: Float64Array;
  readonly coarse: Float32Array;
}

const known = new WeakMap<PageSignature, Descriptor>();

/** Makes a signature ready for comparing, about 10 microseconds; once, however often a book is put in order. */
export function describe(signature: PageSignature): Descriptor {
  const descriptor = known.get(signature) ?? makeReady(signature);
  known.set(signature, descriptor);
  return descriptor;
}

function makeReady({ cells }: PageSignature): Descriptor {
  const { planes, means, products } = levelPlanes(cells);
  const [ll = 0, ln = 0, lb = 0, lr = 0, nn = 0, nb = 0, nr = 0, bb = 0, br = 0, rr = 0] = products;
  const energy = ll + bb + rr;
  const [light, blue, red] = means;
  const planeAt = (at: number) => planes.subarray(at * CELLS, (at + 1) * CELLS);
  return {
    all: planes,
    planes: [planeAt(0), planeAt(1), planeAt(2)],
    means: [light, blue, red],
    energy,
    toUnit: unitRows(Float64Array.of(ll, ln, lb, lr, ln, nn, nb, nr, lb, nb, bb, br, lr, nr, br, rr)),
    coarse: coarseVector(planes, [light, blue, red], energy),
  };
}

/** The same page turned clockwise. */
export function turnSignature(signature: PageSignature, turnedDeg: QuarterTurn): PageSignature {
  if (turnedDeg === 0) return signature;
  const cells = new Uint8Array(signature.cells.length);
  const last = SIDE - 1;
  for (let row = 0; row < SIDE; row++) {
    for (let column = 0; column < SIDE; column++) {
      const to =
        turnedDeg === 90
          ? column * SIDE + (last - row)
          : turnedDeg === 180
            ? (last - row) * SIDE + (last - column)
            : (last - column) * SIDE + row;
      const from = row * SIDE + column;
      for (let channel = 0; channel < 3; channel++) cells[3 * to + channel] = signature.cells[3 * from + channel]!;
    }
  }
  return { cells };
}

/** Squared distance of coarse vectors: 0 for one page, about 2 for pages without anything in common. */
export function coarseDistance({ coarse: one }: Descriptor, { coarse: other }: Descriptor): number {
  // Four sums side by side: one alone waits for itself and took three times as long.
  let [s0, s1, s2, s3] = [0, 0, 0, 0];
  for (let at = 0; at < COARSE_LENGTH; at += 4) {
    const d0 = one[at]! - other[at]!;
    const d1 = one[at + 1]! - other[at + 1]!;
    const d2 = one[at + 2]! - other[at + 2]!;
    const d3 = one[at + 3]! - other[at + 3]!;
    s0 += d0 * d0;
    s1 += d1 * d1;
    s2 += d2 * d2;
    s3 += d3 * d3;
  }
  return s0 + s1 + s2 + s3;
}

/** Gram-Schmidt in the space of the sources' weights, so that a pair needs only the sources' own products. */
function unitRows(gram: Float64Array): Float64Array {
  const rows = new Float64Array(SOURCES * SOURCES);
  for (let source = 0; source < SOURCES; source++) {
    const row = new Float64Array(SOURCES);
    row[source] = 1;
    for (let earlier = 0; earlier < source; earlier++) {
      const other = rows.subarray(earlier * SOURCES, (earlier + 1) * SOURCES);
      const along = product(row, other, gram);
      for (let at = 0; at < SOURCES; at++) row[at] = row[at]! - along * other[at]!;
    }
    const length2 = product(row, row, gram);
    // What is left under one level is rounding; to explain with it would be to fit noise.
    if (length2 < CELLS) continue;
    for (let at = 0; at < SOURCES; at++) rows[source * SOURCES + at] = row[at]! / Math.sqrt(length2);
  }
  return rows;
}

function product(one: Float64Array, other: Float64Array, gram: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < SOURCES; i++) {
    let inner = 0;
    for (let j = 0; j < SOURCES; j++) inner += other[j]! * gram[i * SOURCES + j]!;
    sum += one[i]! * inner;
  }
  return sum;
}

function coarseVector(planes: Float32Array, means: readonly number[], energy: number): Float32Array {
  const coarse = new Float32Array(COARSE_LENGTH);
  coarse.set(shrinkPlanes(planes, 1 / Math.sqrt(energy + EVEN_VARIANCE * CELLS)));
  // Half as heavy as in the close look: a conversion may darken a whole page.
  means.forEach((mean, index) => (coarse[384 + index] = mean / (2 * FAR_COLOUR)));
  return coarse;
}
