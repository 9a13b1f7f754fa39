import type { Kernel } from '../../model/index.ts';
import { kernelModule, kernelOf, layOut } from '../../model/index.ts';
import { FIELDS } from './fields-code.ts';

interface Exports {
  readonly memory: WebAssembly.Memory;
  readonly labOf: Kernel<void>;
  readonly layRow: Kernel<void>;
  readonly pickCells: Kernel<number>;
}

const kernels = kernelOf<Exports>(FIELDS);

/** How bytes of sRGB become colours. */
export interface LabTables {
  /** Light of each of 256 levels: 1 is as many steps as `compressed` has. */
  readonly linear: Float64Array;
  /** X, Y, Z over the white's from red, green, blue. */
  readonly weights: Float64Array;
  /** What CIE 15 makes of each step from 0 to 1 before it takes differences, and one step more. */
  readonly compressed: Float32Array;
}

/** Pixels that become colours in one call. */
const PIECE = 4096;

/** A kernel of its own that keeps the tables in its memory, since they are long and always the same. */
interface LabDesk extends Exports {
  readonly tables: LabTables;
  readonly bytes: Uint8Array;
  readonly colours: Float32Array;
  /** Where the linear, the weights and the compressed lie. */
  readonly at: readonly number[];
}

let onLabDesk: LabDesk | null = null;

function labDesk(tables: LabTables): LabDesk {
  if (onLabDesk?.tables === tables) return onLabDesk;
  const own = new WebAssembly.Instance(kernelModule(FIELDS)).exports as unknown as Exports;
  const { linear, weights, compressed } = tables;
  const lengths = [PIECE * 3, PIECE * 12, linear.byteLength, weights.byteLength, compressed.byteLength];
  const {
    memory: { buffer },
    at: [bytesAt, coloursAt, ...at],
  } = layOut(own.memory, ...lengths);
  new Float64Array(buffer, at[0]).set(linear);
  new Float64Array(buffer, at[1]).set(weights);
  new Float32Array(buffer, at[2]).set(compressed);
  const bytes = new Uint8Array(buffer, bytesAt, PIECE * 3);
  onLabDesk = { ...own, tables, bytes, colours: new Float32Array(buffer, coloursAt, PIECE * 3), at };
  return onLabDesk;
}

/**
 * Colours of bytes of sRGB, straight between the steps of a table.
 *
 * @param rgb     3 bytes a pixel
 * @param tables  taken from memory where they are those of the last call, so not to be changed
 * @param out     receives L*, a*, b* of each
 */
export function labByTables(rgb: Uint8Array, tables: LabTables, out: Float32Array): void {
  const { labOf, bytes, colours, at } = labDesk(tables);
  const [linear = 0, weights = 0, compressed = 0] = at;
  const pixels = Math.floor(rgb.length / 3);
  for (let first = 0; first < pixels; first += PIECE) {
    const count = Math.min(PIECE, pixels - first);
    bytes.set(rgb.subarray(first * 3, (first + count) * 3));
    labOf(bytes.byteOffset, count, linear, compressed, weights, colours.byteOffset);
    out.set(count === PIECE ? colours : colours.subarray(0, count * 3), first * 3);
  }
}

/** A part of a page as L*, a*, b*, three numbers a cell; cell (0, 0) lies at (`left`, `top`) cells of the page. */
export interface Field {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly lab: Float32Array;
}

/** A field read in the cells of another. */
export interface ReadField {
  /** L*, a*, b* a cell; 0 where nothing was read. */
  readonly lab: Float32Array;
  /** 1 where a cell was read. */
  readonly inside: Uint8Array;
}

/**
 * Reads a field where a map from cells of the page says, straight between the middles of its cells; up to half a cell
 * beyond them as at the edge.
 *
 * @param cells   whose cells are read
 * @param map     a to f of u = a x + c y + e, v = b x + d y + f
 * @param speaks  0 where a cell is not read; or null
 */
export function readField(
  field: Field,
  cells: Omit<Field, 'lab'>,
  map: readonly [number, number, number, number, number, number],
  speaks: Uint8Array | null,
): ReadField {
  const { layRow, memory: own } = kernels();
  const { width, height } = cells;
  const count = width * height;
  const { memory, at } = layOut(own, field.lab.byteLength, count, count, count * 12);
  const [source = 0, speaksAt = 0, insideAt = 0, outAt = 0] = at;
  const lab = new Float32Array(memory.buffer, outAt, count * 3);
  const inside = new Uint8Array(memory.buffer, insideAt, count);
  new Float32Array(memory.buffer, source).set(field.lab);
  if (speaks === null) memory.fill(1, speaksAt, speaksAt + count);
  else memory.set(speaks, speaksAt);
  lab.fill(0);
  inside.fill(0);
  for (let y = 0; y < height; y++) {
    const first = y * width;
    layRow(
      ...[source, field.width, field.height, field.left, field.top],
      ...map,
      ...[cells.left, cells.top + y + 0.5, width, speaksAt + first, outAt + first * 12, insideAt + first],
    );
  }
  return { lab: lab.slice(), inside: inside.slice() };
}

/**
 * Every so manieth of the cells that speak.
 *
 * @param speaks  0 leaves a cell out
 * @param stride  1 takes all
 * @returns their numbers; overwritten by the next call of anything here
 */
export function pickCells(speaks: Uint8Array, stride: number): Int32Array {
  const { pickCells: pick, memory: own } = kernels();
  const { memory, at } = layOut(own, speaks.length, Math.ceil(speaks.length / stride) * 4);
  const [speaksAt = 0, out = 0] = at;
  memory.set(speaks, speaksAt);
  return new Int32Array(memory.buffer, out, pick(speaksAt, speaks.length, stride, out));
}
