import { growMemory, kernelModule, Refusal } from '../../model/index.ts';
import type { PairSums } from '../correlation.ts';
import type { Grey } from '../grey.ts';
import { LAYING } from './laying-code.ts';

/** What `laying.as` exports. */
interface Exports {
  readonly memory: WebAssembly.Memory;
  laySums(
    this: void,
    a: number,
    open: number,
    b: number,
    stride: number,
    strideB: number,
    rows: number,
    out: number,
  ): void;
}

const SUMS_BYTES = 24;
/** A place in memory that loads begin at, and what they may read behind the last row. */
const SIXTEEN = 16;
const MOST_WIDE = 100_000;

let compiled: WebAssembly.Module | null = null;

/** A page that is laid over a field at one whole pixel after the other. */
export interface Laying {
  /** How far the page can go right and down. */
  readonly mostX: number;
  readonly mostY: number;
  /** Sums over the pixels that count, page first. */
  sumsAt(this: void, left: number, top: number): PairSums;
}

/**
 * Prepares the sums by which a page is found in a field; they are whole numbers, so the same by any way of adding.
 *
 * @param open  1 for each pixel of the page that counts; null where all do
 * @param step  only every so many pixels of the page count, both ways: 1 or 2
 * @returns null where the page does not fit into the field
 */
export function layingOf(field: Grey, page: Grey, open: Uint8Array | null, step: 1 | 2): Laying | null {
  const [mostX, mostY] = [field.width - page.width, field.height - page.height];
  if (mostX < 0 || mostY < 0) return null;
  requireNarrow(page.width);
  const taken = { width: Math.ceil(page.width / step), height: Math.ceil(page.height / step) };
  const stride = Math.ceil(taken.width / SIXTEEN) * SIXTEEN;
  const strideB = Math.ceil(field.width / step);
  const rowsB = Math.ceil(field.height / step);
  const a = SIXTEEN * 2;
  const mask = a + stride * taken.height;
  const fields = mask + stride * taken.height;
  const fieldBytes = strideB * rowsB;
  const { memory, laySums } = instance(fields + fieldBytes * step * step + 2 * stride);
  const bytes = new Uint8Array(memory.buffer);
  let [n, sumA, sumAA] = [0, 0, 0];
  for (let y = 0; y < taken.height; y++) {
    for (let x = 0; x < taken.width; x++) {
      const from = y * step * page.width + x * step;
      if (open !== null && open[from] === 0) continue;
      const value = page.data[from]!;
      bytes[a + y * stride + x] = value;
      bytes[mask + y * stride + x] = 255;
      n += 1;
      sumA += value;
      sumAA += value * value;
    }
  }
  for (let down = 0; down < step; down++) {
    for (let right = 0; right < step; right++) {
      thinned(field, { right, down, step }, bytes.subarray(fields + (down * step + right) * fieldBytes), strideB);
    }
  }
  const out = new Float64Array(memory.buffer, 0, SUMS_BYTES / 8);
  return {
    mostX,
    mostY,
    sumsAt(left, top) {
      const phase = fields + ((top % step) * step + (left % step)) * fieldBytes;
      const b = phase + Math.floor(top / step) * strideB + Math.floor(left / step);
      laySums(a, mask, b, stride, strideB, taken.height, 0);
      return { n, a: sumA, aa: sumAA, b: out[0]!, bb: out[1]!, ab: out[2]! };
    },
  };
}

/** Every so many pixels of a field, from one of them on. */
function thinned(
  { width, height, data }: Grey,
  { right, down, step }: { readonly right: number; readonly down: number; readonly step: number },
  into: Uint8Array,
  stride: number,
): void {
  for (let y = down, to = 0; y < height; y += step, to += stride) {
    if (step === 1) into.set(data.subarray(y * width, (y + 1) * width), to);
    else for (let x = right, at = to; x < width; x += step, at++) into[at] = data[y * width + x]!;
  }
}

/** With memory of its own, so that layings never meet. */
function instance(bytes: number): Exports {
  compiled ??= kernelModule(LAYING);
  const exports = new WebAssembly.Instance(compiled).exports as unknown as Exports;
  growMemory(exports.memory, bytes);
  return exports;
}

function requireNarrow(width: number): void {
  if (width <= MOST_WIDE) return;
  throw new Refusal('too-large', { what: 'a page in greys', limit: MOST_WIDE, found: width, unit: 'pixels' });
}
