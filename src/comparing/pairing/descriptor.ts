import { SIGNATURE_SIDE } from '../../model/index.ts';
import type { PageSignature } from '../../model/index.ts';
import type { QuarterTurn } from './page-view.ts';

const SIDE = SIGNATURE_SIDE;
const CELLS = SIDE * SIDE;

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
  /** Luminance squared, scaled to levels, less its mean: lets a tone curve bend. */
  readonly bend: Float32Array;
  readonly means: readonly [number, number, number];
  /** Sum of squares of the three planes. */
  readonly energy: number;
  /** Rows that turn the sources into unit vectors at right angles to each other; a row of zeros where a source adds nothing. */
  readonly toUnit: Float64Array;
  readonly coarse: Float32Array;
}

/** Makes a signature ready for comparing; about 30 microseconds. */
export function describe({ cells }: PageSignature): Descriptor {
  const light = new Float32Array(CELLS);
  const blue = new Float32Array(CELLS);
  const red = new Float32Array(CELLS);
  const bend = new Float32Array(CELLS);
  for (let cell = 0; cell < CELLS; cell++) {
    const [r, g, b] = [cells[3 * cell]!, cells[3 * cell + 1]!, cells[3 * cell + 2]!];
    const y = 0.299 * r + 0.587 * g + 0.114 * b; // ITU-R BT.601 2.5.1
    light[cell] = y;
    blue[cell] = 0.564 * (b - y);
    red[cell] = 0.713 * (r - y);
    bend[cell] = (y * y) / 255;
  }
  const means: [number, number, number] = [takeMean(light), takeMean(blue), takeMean(red)];
  takeMean(bend);
  const energy = dot(light, light) + dot(blue, blue) + dot(red, red);
  return {
    planes: [light, blue, red],
    bend,
    means,
    energy,
    toUnit: unitRows([light, bend, blue, red]),
    coarse: coarseVector([light, blue, red], means, energy),
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

function takeMean(plane: Float32Array): number {
  let sum = 0;
  for (const value of plane) sum += value;
  const mean = sum / plane.length;
  for (let cell = 0; cell < plane.length; cell++) plane[cell]! -= mean;
  return mean;
}

function dot(one: Float32Array, other: Float32Array): number {
  let sum = 0;
  for (let cell = 0; cell < CELLS; cell++) sum += one[cell]! * other[cell]!;
  return sum;
}

/** Gram-Schmidt in the space of the sources' weights, so that a pair needs only the sources' own products. */
function unitRows(sources: readonly Float32Array[]): Float64Array {
  const gram: number[][] = sources.map(() => []);
  sources.forEach((one, i) => {
    for (let j = 0; j <= i; j++) gram[i]![j] = gram[j]![i] = dot(one, sources[j]!);
  });
  const product = (a: readonly number[], b: readonly number[]) =>
    a.reduce((sum, x, i) => sum + x * b.reduce((inner, y, j) => inner + y * gram[i]![j]!, 0), 0);
  const rows: number[][] = [];
  for (let source = 0; source < SOURCES; source++) {
    let row = sources.map((_, index) => Number(index === source));
    for (const earlier of rows) {
      const along = product(row, earlier);
      row = row.map((weight, index) => weight - along * earlier[index]!);
    }
    const length2 = product(row, row);
    // What is left under one level is rounding; to explain with it would be to fit noise.
    rows.push(length2 < CELLS ? [0, 0, 0, 0] : row.map((weight) => weight / Math.sqrt(length2)));
  }
  return Float64Array.from(rows.flat());
}

function coarseVector(
  [light, blue, red]: readonly [Float32Array, Float32Array, Float32Array],
  means: readonly number[],
  energy: number,
): Float32Array {
  const coarse = new Float32Array(COARSE_LENGTH);
  const scale = 1 / Math.sqrt(energy + EVEN_VARIANCE * CELLS);
  shrinkInto(coarse, 0, light, 2, scale);
  shrinkInto(coarse, 256, blue, 4, scale);
  shrinkInto(coarse, 320, red, 4, scale);
  // Half as heavy as in the close look: a conversion may darken a whole page.
  means.forEach((mean, index) => (coarse[384 + index] = mean / (2 * FAR_COLOUR)));
  return coarse;
}

/** Means of squares of cells, weighted so that the sum of squares keeps its size. */
function shrinkInto(target: Float32Array, at: number, plane: Float32Array, factor: number, scale: number): void {
  const across = SIDE / factor;
  for (let row = 0; row < SIDE; row++) {
    for (let column = 0; column < SIDE; column++) {
      const to = at + Math.floor(row / factor) * across + Math.floor(column / factor);
      target[to]! += (plane[row * SIDE + column]! * scale) / factor;
    }
  }
}
