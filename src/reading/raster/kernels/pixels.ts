import { kernelModule } from '../../../model/index.ts';
import { PIXELS } from './pixels-code.ts';

/** What `pixels.as` exports. */
interface Exports {
  readonly memory: WebAssembly.Memory;
  tableAt(this: void): number;
  inAt(this: void): number;
  outAt(this: void): number;
  sumsAt(this: void): number;
  run(this: void): number;
  colourInks(this: void, pixels: number, isFour: number): void;
  dropFourth(this: void, pixels: number): void;
  clearSums(this: void, bytes: number): void;
  addToSums(this: void, bytes: number): void;
}

const kernels = new WebAssembly.Instance(kernelModule(PIXELS)).exports as unknown as Exports;
const memory = new Uint8Array(kernels.memory.buffer);
const [tableAt, inAt, outAt] = [kernels.tableAt(), kernels.inAt(), kernels.outAt()];
/** Pixels taken at once: what goes in and out stays in the processor's nearest memory. */
const RUN = kernels.run();
/** Bytes added up at once, a whole number of pixels. */
const SPAN = RUN * 3;
const sums = new Uint16Array(kernels.memory.buffer, kernels.sumsAt(), SPAN);
/** Rows that can be added up in 16 bits. */
const MOST_ROWS = 257;

/**
 * Applies a kernel to pixels of four bytes, a run after the other.
 *
 * @param kernel  works on what lies at `in` and leaves it at `out`
 * @param to  is given what comes out, `bytes` a pixel
 */
function inRuns(pixels: Uint8Array, kernel: (pixels: number) => void, to: Uint8Array, bytes: number): void {
  const count = pixels.length >> 2;
  for (let from = 0; from < count; from += RUN) {
    const end = Math.min(count, from + RUN);
    memory.set(pixels.subarray(from * 4, end * 4), inAt);
    kernel(end - from);
    to.set(memory.subarray(outAt, outAt + (end - from) * bytes), from * bytes);
  }
}

/** Bytes that are not cleared first, since all of them will be written. */
export function bytesToFill(count: number): Uint8Array {
  return new Uint8Array(Buffer.allocUnsafeSlow(count).buffer);
}

let inTable: Uint8Array | null = null;

/**
 * Colours of inks by a table of the grid, as `ink-table.ts` says.
 *
 * @param inks  4 bytes a pixel
 * @param table  4 bytes a point of the grid
 * @param to  is given 3 bytes a pixel, or 4 of an opaque one
 */
export function coloursByTable(inks: Uint8Array, table: Uint8Array, to: Uint8Array, bytes: 3 | 4): void {
  if (inTable !== table) memory.set(table, tableAt);
  inTable = table;
  inRuns(inks, bytes === 4 ? colourAsFour : colourAsThree, to, bytes);
}

const colourAsThree = (pixels: number): void => kernels.colourInks(pixels, 0);
const colourAsFour = (pixels: number): void => kernels.colourInks(pixels, 1);

/** The first three bytes of each four. */
export function firstThreeOfFour(pixels: Uint8Array): Uint8Array {
  const three = bytesToFill((pixels.length >> 2) * 3);
  inRuns(pixels, kernels.dropFourth, three, 3);
  return three;
}

/**
 * Sums of rows of bytes, column by column.
 *
 * @param rows  in all of `stride` bytes each
 * @param from  first row
 * @param end  the row after the last
 * @returns as many sums as a row has bytes
 */
export function sumOfRows(rows: Uint8Array, stride: number, from: number, end: number): Float64Array {
  const total = new Float64Array(stride);
  for (let left = 0; left < stride; left += SPAN) {
    const right = Math.min(stride, left + SPAN);
    for (let top = from; top < end; top += MOST_ROWS) {
      kernels.clearSums(right - left);
      for (let row = top; row < Math.min(end, top + MOST_ROWS); row++) {
        memory.set(rows.subarray(row * stride + left, row * stride + right), inAt);
        kernels.addToSums(right - left);
      }
      for (let at = left; at < right; at++) total[at] = total[at]! + sums[at - left]!;
    }
  }
  return total;
}
