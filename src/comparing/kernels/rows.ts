import { kernelOf, layOut } from '../../model/index.ts';
import { rowWithin } from './row-within.ts';
import { ROWS } from './rows-code.ts';

/** What `rows.as` exports; places in its memory and counts. */
interface Exports {
  readonly memory: WebAssembly.Memory;
  halve(this: void, upper: number, lower: number, out: number, pixels: number): void;
  smoothAlong(this: void, row: number, out: number, bytes: number): void;
  smoothDown(this: void, above: number, here: number, under: number, out: number, bytes: number): void;
  placesApart(
    this: void,
    one: number,
    other: number,
    open: number,
    first: number,
    end: number,
    least: number,
    out: number,
  ): number;
}

const kernels = kernelOf<Exports>(ROWS);

function rowsOf(...lengths: readonly number[]): ReturnType<typeof layOut> {
  return layOut(kernels().memory, ...lengths);
}

/**
 * Half the size by the mean of 2 x 2 pixels, half up; an odd last row or column is dropped, a single one counts twice.
 *
 * @param rgb  3 bytes a pixel
 * @returns of max(1, half) pixels each way
 */
export function halveRgb(rgb: Uint8Array, width: number, height: number): Uint8Array {
  const { halve } = kernels();
  const [across, down] = [Math.max(1, width >> 1), Math.max(1, height >> 1)];
  const halved = new Uint8Array(across * down * 3);
  const stride = width * 3;
  const { memory, at } = rowsOf(stride * 2 + 3, across * 3);
  const [pair = 0, out = 0] = at;
  const lower = height > 1 ? pair + stride : pair;
  for (let y = 0; y < down; y++) {
    memory.set(rgb.subarray(2 * y * stride, (2 * y + 2) * stride), pair);
    if (width === 1) doubled(memory, pair, height > 1);
    halve(pair, width === 1 ? pair + 6 * Math.min(1, height - 1) : lower, out, across);
    halved.set(memory.subarray(out, out + across * 3), y * across * 3);
  }
  return halved;
}

/** Two pixels below each other as two rows of two. */
function doubled(memory: Uint8Array, pair: number, isTwo: boolean): void {
  if (isTwo) {
    memory.copyWithin(pair + 6, pair + 3, pair + 6);
    memory.copyWithin(pair + 9, pair + 6, pair + 9);
  }
  memory.copyWithin(pair + 3, pair, pair + 3);
}

/**
 * Smoothed by 1 2 1 along and down, half up; the rim counts twice.
 *
 * @param rgb  3 bytes a pixel
 */
export function smoothRgb(rgb: Uint8Array, width: number, height: number): Uint8Array {
  const { smoothAlong, smoothDown } = kernels();
  const smooth = new Uint8Array(rgb.length);
  const stride = width * 3;
  const { memory, at } = rowsOf(stride + 6, stride * 2, stride * 2, stride * 2, stride);
  const [row = 0, ...rest] = at;
  const along = rest.slice(0, 3);
  const out = rest[3] ?? 0;
  const take = (y: number): void => {
    memory.set(rgb.subarray(y * stride, (y + 1) * stride), row + 3);
    memory.copyWithin(row, row + 3, row + 6);
    memory.copyWithin(row + 3 + stride, row + stride, row + 3 + stride);
    smoothAlong(row, rowWithin(along, y, height), stride);
  };
  if (height > 0) take(0);
  for (let y = 0; y < height; y++) {
    if (y + 1 < height) take(y + 1);
    const [above, below] = [rowWithin(along, y - 1, height), rowWithin(along, y + 1, height)];
    smoothDown(above, rowWithin(along, y, height), below, out, stride);
    smooth.set(memory.subarray(out, out + stride), y * stride);
  }
  return smooth;
}

/** A row of pixels on both of two pages, 3 bytes each. */
export interface RowOfBoth {
  readonly one: Uint8Array;
  readonly other: Uint8Array;
  /** 1 where a place is looked at; as many as both rows have. */
  readonly open: Uint8Array;
}

/**
 * Open places of a row, less its ends, where the three channels together are at least so many levels apart.
 *
 * @returns their numbers in the row; overwritten by the next call
 */
export function placesApart({ one, other, open }: RowOfBoth, leastLevels: number): Int32Array {
  const width = open.length;
  const { memory, at } = rowsOf(width * 3, width * 3, width, width * 4);
  const [a = 0, b = 0, c = 0, out = 0] = at;
  memory.set(one, a);
  memory.set(other, b);
  memory.set(open, c);
  const found = kernels().placesApart(a, b, c, 1, width - 1, leastLevels, out);
  return new Int32Array(memory.buffer, out, found);
}
