import { kernelModule, layOut, SIGNATURE_SIDE } from '../../model/index.ts';
import { LOOKS } from './looks-code.ts';

/** What `looks.as` exports; places in its memory. */
interface Exports {
  readonly memory: WebAssembly.Memory;
  fillPlanes(this: void, cells: number, planes: number, means: number): void;
  levelPlanes(this: void, planes: number, means: number, products: number): void;
  shrinkPlanes(this: void, planes: number, scale: number, out: number): void;
  productsOf(this: void, one: number, other: number, out: number): void;
}

const CELLS = SIGNATURE_SIDE * SIGNATURE_SIDE;
const PLANES_LONG = 4 * CELLS;
/** Luminance at half the resolution, two colour planes at a quarter. */
const SHRUNK_LONG = CELLS / 4 + CELLS / 8;
const MEANS = 4;
const PRODUCTS = 16;

/** The kernels with their places in memory. */
interface Desk extends Exports {
  readonly cells: Uint8Array;
  readonly cellsAt: number;
  readonly one: Float32Array;
  readonly oneAt: number;
  readonly other: Float32Array;
  readonly otherAt: number;
  readonly means: Float64Array;
  readonly meansAt: number;
  readonly sums: Float64Array;
  readonly sumsAt: number;
  readonly shrunk: Float32Array;
  readonly shrunkAt: number;
}

let laidOut: Desk | null = null;

function desk(): Desk {
  if (laidOut !== null) return laidOut;
  const exported = new WebAssembly.Instance(kernelModule(LOOKS)).exports as unknown as Exports;
  const { memory, at } = layOut(
    exported.memory,
    3 * CELLS,
    4 * PLANES_LONG,
    4 * PLANES_LONG,
    8 * MEANS,
    8 * PRODUCTS,
    4 * SHRUNK_LONG,
  );
  const [cellsAt = 0, oneAt = 0, otherAt = 0, meansAt = 0, sumsAt = 0, shrunkAt = 0] = at;
  laidOut = {
    ...exported,
    cells: memory.subarray(cellsAt, cellsAt + 3 * CELLS),
    cellsAt,
    one: new Float32Array(memory.buffer, oneAt, PLANES_LONG),
    oneAt,
    other: new Float32Array(memory.buffer, otherAt, PLANES_LONG),
    otherAt,
    means: new Float64Array(memory.buffer, meansAt, MEANS),
    meansAt,
    sums: new Float64Array(memory.buffer, sumsAt, PRODUCTS),
    sumsAt,
    shrunk: new Float32Array(memory.buffer, shrunkAt, SHRUNK_LONG),
    shrunkAt,
  };
  return laidOut;
}

/** Whose planes lie at `one`: a page is held against many in turn. */
let inOne: Float32Array | null = null;

/** A signature's planes: luminance, blue and red difference, luminance squared over 255. */
export interface LevelPlanes {
  /** The four one behind the other, each less its mean, row by row. */
  readonly planes: Float32Array;
  readonly means: readonly [light: number, blue: number, red: number, bend: number];
  /** Sums of products over all cells: of light (l), bend (n), blue (b), red (r) ll ln lb lr nn nb nr bb br rr. */
  readonly products: Float64Array;
}

/**
 * A signature's planes, less their means. Luminance is that of ITU-R BT.601 2.5.1.
 *
 * @param cells  3 bytes a cell
 */
export function levelPlanes(cells: Uint8Array): LevelPlanes {
  const own = desk();
  inOne = null;
  own.cells.set(cells);
  own.fillPlanes(own.cellsAt, own.oneAt, own.meansAt);
  own.levelPlanes(own.oneAt, own.meansAt, own.sumsAt);
  const [light = 0, blue = 0, red = 0, bend = 0] = own.means;
  inOne = own.one.slice();
  return { planes: inOne, means: [light, blue, red, bend], products: own.sums.slice(0, 10) };
}

/**
 * Luminance at half the resolution and both colours at a quarter, by sums of cells times `scale` over the side: the sum of
 * squares keeps its size. Each sum is rounded to 32 bits at every cell.
 */
export function shrinkPlanes(planes: Float32Array, scale: number): Float32Array {
  const own = desk();
  takeOne(own, planes);
  own.shrinkPlanes(own.oneAt, scale, own.shrunkAt);
  return own.shrunk;
}

/**
 * Sums over all cells of the products of one page's planes with another's (light, blue, red: 0 1 2, bend: n).
 *
 * @param one  as `levelPlanes` gives them; `other` likewise
 * @returns 00 01 02 0n 10 11 12 1n 20 21 22 2n n0 n1 n2 nn; overwritten by the next call of anything here
 */
export function productsOf(one: Float32Array, other: Float32Array): Float64Array {
  const own = desk();
  takeOne(own, one);
  own.other.set(other);
  own.productsOf(own.oneAt, own.otherAt, own.sumsAt);
  return own.sums;
}

function takeOne(own: Desk, planes: Float32Array): void {
  if (inOne !== planes) own.one.set(planes);
  inOne = planes;
}
