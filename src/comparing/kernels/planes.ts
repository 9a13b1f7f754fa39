import { kernelOf, layOut } from '../../model/index.ts';
import { rowWithin } from './row-within.ts';
import { PLANES } from './planes-code.ts';

/** What `planes.as` exports; places in its memory and counts. */
interface Exports {
  readonly memory: WebAssembly.Memory;
  lumaOf(this: void, rgb: number, pixels: number, out: number): void;
  smooth(
    this: void,
    one: number,
    two: number,
    three: number,
    four: number,
    five: number,
    out: number,
    pixels: number,
  ): void;
  halve(this: void, upper: number, lower: number, out: number, pixels: number): void;
}

const kernels = kernelOf<Exports>(PLANES);

/** Rows of pixels of 32 bits in the kernel's memory: where each lies in bytes, and all of it as numbers. */
function rowsOf(...lengths: readonly number[]): {
  readonly memory: Uint8Array;
  readonly numbers: Float32Array;
  readonly at: readonly number[];
} {
  const { memory, at } = layOut(kernels().memory, ...lengths);
  return { memory, numbers: new Float32Array(memory.buffer), at };
}

/**
 * Luma of a part of a raster, 0 black to 255 paper.
 *
 * @param rgb    3 bytes a pixel
 * @param from   the byte where the part begins
 * @param pixels  of a row of the raster
 * @source weights of ITU-R BT.709 on the encoded values, from memory; any fixed weights serve a comparison
 */
export function lumaOf(rgb: Uint8Array, from: number, pixels: number, width: number, height: number): Float32Array {
  const { lumaOf: luma } = kernels();
  const { memory, numbers, at } = rowsOf(width * 3, width * 4);
  const [row = 0, out = 0] = at;
  const data = new Float32Array(width * height);
  const line = numbers.subarray(out / 4, out / 4 + width);
  for (let y = 0; y < height; y++) {
    const first = from + y * pixels * 3;
    memory.set(rgb.subarray(first, first + width * 3), row);
    luma(row, width, out);
    data.set(line, y * width);
  }
  return data;
}

/** A plane of as many pixels as it is wide and high, row by row. */
export interface Pixels {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

/** The rim goes on for so many pixels. */
const REACH = 2;

/** Smoothed by the binomial kernel 1 4 6 4 1 along and down; the rim goes on beyond itself. */
export function smoothPixels({ width, height, data }: Pixels): Float32Array {
  const { smooth } = kernels();
  const bytes = width * 4;
  const { numbers, at } = rowsOf(bytes + 2 * REACH * 4, bytes, ...new Array<number>(5).fill(bytes));
  const [row = 0, out = 0, ...along] = at;
  const first = row / 4;
  const line = numbers.subarray(out / 4, out / 4 + width);
  const smoothed = new Float32Array(data.length);
  const take = (y: number): void => {
    numbers.set(data.subarray(y * width, (y + 1) * width), first + REACH);
    numbers.fill(data[y * width]!, first, first + REACH);
    numbers.fill(data[(y + 1) * width - 1]!, first + REACH + width, first + 2 * REACH + width);
    smooth(row, row + 4, row + 8, row + 12, row + 16, rowWithin(along, y, height), width);
  };
  for (let y = 0; y < Math.min(REACH, height); y++) take(y);
  for (let y = 0; y < height; y++) {
    if (y + REACH < height) take(y + REACH);
    const [a, b, c] = [rowWithin(along, y - 2, height), rowWithin(along, y - 1, height), rowWithin(along, y, height)];
    smooth(a, b, c, rowWithin(along, y + 1, height), rowWithin(along, y + 2, height), out, width);
    smoothed.set(line, y * width);
  }
  return smoothed;
}

/**
 * Half the size by the mean of 2 x 2 pixels; an odd last row or column is dropped, a single one counts twice.
 *
 * @returns of max(1, half) pixels each way
 */
export function halvePixels({ width, height, data }: Pixels): Float32Array {
  const { halve } = kernels();
  const [across, down] = [Math.max(1, width >> 1), Math.max(1, height >> 1)];
  const { numbers, at } = rowsOf(width * 8, width * 8, across * 4);
  const [upper = 0, lower = 0, out = 0] = at;
  const line = numbers.subarray(out / 4, out / 4 + across);
  const halved = new Float32Array(across * down);
  for (let y = 0; y < down; y++) {
    const first = 2 * y * width;
    takeRow(numbers, data.subarray(first, first + width), upper / 4);
    const second = height > 1 ? first + width : first;
    takeRow(numbers, data.subarray(second, second + width), lower / 4);
    halve(upper, lower, out, across);
    halved.set(line, y * across);
  }
  return halved;
}

/** A single pixel is put down twice. */
function takeRow(numbers: Float32Array, row: Float32Array, at: number): void {
  numbers.set(row, at);
  if (row.length === 1) numbers[at + 1] = row[0]!;
}
