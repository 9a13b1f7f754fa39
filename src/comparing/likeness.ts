import { Refusal } from '../model/index.ts';

/** Grey values row by row from the top left, 0 black to 255 white. */
type Grey = Uint8Array | Float32Array | Float64Array;

// Wang, Bovik, Sheikh, Simoncelli (2004), section III.C and its equations 11 and 12: window and constants.
const WINDOW = 11;
const SIGMA = 1.5;
const C1 = (0.01 * 255) ** 2;
const C2 = (0.03 * 255) ** 2;

/**
 * How alike two grey pictures of one size look: the mean of SSIM over every place where the window fits; 1 for equal
 * pictures, about 0 for unrelated ones, below 0 for inverted ones. The order of the two does not matter. On even areas
 * the constants decide, so it is no judge of blank paper.
 *
 * @param width  in pixels, at least 11; `height` likewise
 * @throws {Refusal} malformed: a side under 11 pixels, or a picture that is not `width * height` long
 * @source Wang, Bovik, Sheikh, Simoncelli, "Image quality assessment", IEEE Trans. Image Process. 13 (2004), equation 13
 *   with a Gaussian window of 11 x 11 and sigma 1.5; values in test/standards/ssim
 */
export function structuralSimilarity(one: Grey, other: Grey, width: number, height: number): number {
  requireSides(width, height);
  requireLength(one, width * height, 'one');
  requireLength(other, width * height, 'other');
  const blurred = (value: (index: number) => number) =>
    blur(
      Float64Array.from(one, (_, at) => value(at)),
      width,
      height,
    );
  const meanOne = blurred((at) => one[at]!);
  const meanOther = blurred((at) => other[at]!);
  const squareOne = blurred((at) => one[at]! * one[at]!);
  const squareOther = blurred((at) => other[at]! * other[at]!);
  const product = blurred((at) => one[at]! * other[at]!);
  let sum = 0;
  for (let at = 0; at < product.length; at++) {
    const [a, b] = [meanOne[at]!, meanOther[at]!];
    const covariance = product[at]! - a * b;
    const variances = squareOne[at]! - a * a + squareOther[at]! - b * b;
    sum += ((2 * a * b + C1) * (2 * covariance + C2)) / ((a * a + b * b + C1) * (variances + C2));
  }
  return sum / product.length;
}

/**
 * Zero-mean normalised correlation (Pearson's r) of two pictures' values: 1 where one is the other with another
 * contrast and brightness, -1 where it is also inverted; null where one of them is even, since nothing can be told.
 * The order of the two does not matter.
 *
 * @throws {Refusal} malformed: unequal lengths
 * @source Pearson (1895), as any book of statistics has it; values in test/standards/correlation
 */
export function normalisedCorrelation(one: Grey, other: Grey): number | null {
  requireLength(other, one.length, 'other');
  const meanOne = mean(one);
  const meanOther = mean(other);
  let [both, squareOne, squareOther] = [0, 0, 0];
  for (let at = 0; at < one.length; at++) {
    const a = one[at]! - meanOne;
    const b = other[at]! - meanOther;
    both += a * b;
    squareOne += a * a;
    squareOther += b * b;
  }
  const scale = Math.sqrt(squareOne) * Math.sqrt(squareOther);
  return scale > 0 ? Math.max(-1, Math.min(1, both / scale)) : null;
}

/** Gaussian means where the window fits: both sides shrink by ten. */
function blur(values: Float64Array, width: number, height: number): Float64Array {
  const weights = gaussian();
  const across = width - WINDOW + 1;
  const down = height - WINDOW + 1;
  const rows = new Float64Array(across * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < across; x++) {
      let sum = 0;
      for (let tap = 0; tap < WINDOW; tap++) sum += weights[tap]! * values[y * width + x + tap]!;
      rows[y * across + x] = sum;
    }
  }
  const result = new Float64Array(across * down);
  for (let y = 0; y < down; y++) {
    for (let x = 0; x < across; x++) {
      let sum = 0;
      for (let tap = 0; tap < WINDOW; tap++) sum += weights[tap]! * rows[(y + tap) * across + x]!;
      result[y * across + x] = sum;
    }
  }
  return result;
}

function gaussian(): Float64Array {
  const middle = (WINDOW - 1) / 2;
  const raw = Float64Array.from({ length: WINDOW }, (_, tap) => Math.exp(-((tap - middle) ** 2) / (2 * SIGMA * SIGMA)));
  const sum = raw.reduce((total, weight) => total + weight, 0);
  return raw.map((weight) => weight / sum);
}

/** Summed from the first value on, so that an even picture has exactly its own value as mean. */
function mean(values: Grey): number {
  const first = values[0] ?? 0;
  let sum = 0;
  for (const value of values) sum += value - first;
  return first + sum / values.length;
}

function requireSides(width: number, height: number): void {
  for (const [name, side] of Object.entries({ width, height })) {
    if (!(side >= WINDOW)) {
      throw new Refusal('malformed', { pointer: name, expected: `at least ${WINDOW} px`, found: `${side} px` });
    }
  }
}

function requireLength(picture: Grey, length: number, pointer: string): void {
  if (picture.length !== length) {
    throw new Refusal('malformed', { pointer, expected: `${length} values`, found: `${picture.length}` });
  }
}
