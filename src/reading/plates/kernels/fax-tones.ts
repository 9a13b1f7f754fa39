import { growMemory, kernelModule } from '../../../model/index.ts';
import { faxTables } from '../fax-codes.ts';
import { FAX_TONES } from './fax-tones-code.ts';

/** What `fax-tones.as` exports. */
interface Exports {
  readonly memory: WebAssembly.Memory;
  groupsAt(this: void): number;
  whiteRunsAt(this: void): number;
  blackRunsAt(this: void): number;
  dataAt(this: void): number;
  spansAt(this: void): number;
  scalesAt(this: void): number;
  tonesAt(this: void): number;
  rowAt(this: void): number;
  layOut(this: void, columns: number, across: number, block: number, bytes: number): number;
  beginStrip(this: void): void;
  turnBits(this: void, from: number, bytes: number): void;
  decodeRow(this: void, bit: number, bytes: number): number;
  addRow(this: void, weights: number): void;
  sumBand(this: void): void;
  makeTones(this: void, scale: number, flip: number): void;
}

let compiled: WebAssembly.Module | null = null;
let tables: ReturnType<typeof faxTables> | null = null;

/** Rows of a plate in fax group 4, one after the other, and what is added up of them. */
export interface FaxRows {
  /** Coded bytes are put here, before the first `most`; what is behind them must be zeros, at least `BEHIND` of them. */
  readonly data: Uint8Array;
  /** Lets the first bit of each byte be the lowest, as rows are read. */
  turnBits(this: void, from: number, bytes: number): void;
  /** The row above the next is white. */
  beginStrip(this: void): void;
  /**
   * Decodes a row.
   *
   * @param bit  where it begins in the data, of which there are `bytes`
   * @returns the bit behind it, or less than 0 where it is not coded as it must be or the data ends
   */
  decodeRow(this: void, bit: number, bytes: number): number;
  /** Columns at which the row decoded last changes its colour, black first, closed by its width. */
  row(this: void): Uint32Array;
  /** Adds the row decoded last to a band by two weights. */
  addRow(this: void, upper: number, lower: number): void;
  /**
   * Ends a band: what its rows have by their upper weights, and the band before by its lower, times `scale`.
   *
   * @param flip  whether white is ink
   * @returns a row of tones, until the next
   */
  endBand(this: void, scale: number, flip: boolean): Uint8Array;
}

/** Of the columns of a plate, for tones across it. */
export interface Columns {
  readonly width: number;
  readonly tones: number;
  /** Pixels of a block, as `toneSpans` has it. */
  readonly block: number;
  /** Of each span between centres, in 8, 8 and 16 bits: its columns, its length, what is added to the left weights. */
  readonly spans: Int32Array;
  /** By which the sum at each tone is multiplied. */
  readonly scales: Float32Array;
}

/** Where rows are only decoded. */
export const NO_TONES: Omit<Columns, 'width'> = {
  tones: 0,
  block: 1,
  spans: new Int32Array(),
  scales: new Float32Array(),
};
/** Bytes that are read behind the data, and must be zeros. */
export const BEHIND = 32;

/** A kernel with memory of its own, which holds `most` coded bytes at once. */
export function faxRows({ width, tones, block, spans, scales }: Columns, most: number): FaxRows {
  compiled ??= kernelModule(FAX_TONES);
  tables ??= faxTables();
  const kernel = new WebAssembly.Instance(compiled).exports as unknown as Exports;
  growMemory(kernel.memory, kernel.layOut(width, tones, block, most + BEHIND));
  const { buffer } = kernel.memory;
  const dataAt = kernel.dataAt();
  new Uint8Array(buffer).set(tables.groups, kernel.groupsAt());
  new Uint16Array(buffer, kernel.whiteRunsAt()).set(tables.whiteRuns);
  new Uint16Array(buffer, kernel.blackRunsAt()).set(tables.blackRuns);
  new Int32Array(buffer, kernel.spansAt()).set(spans);
  new Float32Array(buffer, kernel.scalesAt()).set(scales);
  const out = new Uint8Array(buffer, kernel.tonesAt(), tones);
  return {
    data: new Uint8Array(buffer, dataAt, most + BEHIND),
    turnBits: (from, bytes) => kernel.turnBits(dataAt + from, bytes),
    beginStrip: kernel.beginStrip,
    decodeRow: kernel.decodeRow,
    row() {
      const row = new Uint32Array(buffer, kernel.rowAt());
      return row.subarray(0, row.indexOf(width) + 1);
    },
    addRow: (upper, lower) => kernel.addRow(upper | (lower << 16)),
    endBand(scale, flip) {
      kernel.sumBand();
      kernel.makeTones(scale, flip ? -1 : 0);
      return out;
    },
  };
}
