import { growMemory, kernelModule } from '../../../model/index.ts';
import type { SampleLayout, Samples } from '../picture-kind.ts';
import { codeEntries, TURNED_BITS, turnedBits } from './code-entries.ts';
import { HALF_JPEG } from './half-jpeg-code.ts';
import { jpegFrame, type CodeTable, type JpegFrame } from './jpeg-frame.ts';
import { halfWaves } from './half-waves.ts';
import { CODED_ORDER, KEPT, SIDE } from './waves.ts';

/** What `half-jpeg.as` exports. */
interface Exports {
  readonly memory: WebAssembly.Memory;
  componentsAt(this: void): number;
  wavesAt(this: void): number;
  turnedAt(this: void): number;
  downAt(this: void): number;
  codesAt(this: void, table: number): number;
  placesAt(this: void, component: number): number;
  acrossAt(this: void): number;
  dataAt(this: void): number;
  outAt(this: void): number;
  layOut(this: void, count: number, across: number, width: number, bytes: number): number;
  beginStretch(this: void, from: number, end: number): number;
  isWithin(this: void): number;
  decodeBlocks(this: void, count: number): number;
  endRow(this: void, rows: number, width: number, isYcc: number, isFlipped: number): void;
}

/** Places that the reading of a block may come to, of which only 64 are waves. */
const PLACES = 192;
const COMPONENT_BYTES = 32;
const [RST0, EOI, RESTARTS] = [0xd0, 0xd9, 8];
/** Memory of a kernel that is kept for the next picture, and that is asked for at all. */
const MOST_KEPT = 64 << 20;
const MOST_BYTES = 2 ** 30;

let compiled: WebAssembly.Module | null = null;
let kept: Exports | null = null;

function kernel(): Exports {
  if (kept !== null) return kept;
  compiled ??= kernelModule(HALF_JPEG);
  kept = new WebAssembly.Instance(compiled).exports as unknown as Exports;
  const turned = Uint16Array.from({ length: 1 << TURNED_BITS }, (_, bits) => turnedBits(bits, TURNED_BITS));
  new Uint16Array(kept.memory.buffer, kept.turnedAt(), turned.length).set(turned);
  return kept;
}

/** Half of a picture each way, rounded up: of an odd one the last pixels lie half outside. */
export function halfOf({ pixelWidth, pixelHeight }: SampleLayout): { readonly width: number; readonly height: number } {
  return { width: Math.ceil(pixelWidth / 2), height: Math.ceil(pixelHeight / 2) };
}

/**
 * A JPEG file decoded straight to half of its pixels each way, as `readHalfJpeg` does.
 *
 * @returns null where that gives none
 */
export function halfJpeg(file: Uint8Array, layout: SampleLayout): Samples | null {
  const { width, height } = halfOf(layout);
  const data = new Uint8Array(width * height * layout.channels);
  let done = 0;
  const put = (rows: Uint8Array): void => {
    data.set(rows, done);
    done += rows.length;
  };
  return readHalfJpeg(file, layout, put) ? { width, height, data } : null;
}

/**
 * Decodes a JPEG file straight to half of its pixels each way, as `halfOf` has them: each pixel is the mean of two by two
 * samples, of the 64 waves of each block only the slowest 16 being added up, with no full picture in between. Takes two
 * fifths of the time of decoding it natively and making it smaller.
 *
 * @param put  is given the rows as they come, from the top; samples that are soon overwritten
 * @returns whether it is the kind of JPEG that `jpegFrame` reads, coded as it must be; else what was put is of no use
 */
export function readHalfJpeg(file: Uint8Array, layout: SampleLayout, put: (rows: Uint8Array) => void): boolean {
  const frame = jpegFrame(file);
  if (frame?.width !== layout.pixelWidth || frame.height !== layout.pixelHeight) return false;
  const { components, dataAt: codedAt } = frame;
  if (components.length !== layout.channels) return false;
  const own = kernel();
  const { width, height } = halfOf(layout);
  const [columns, bytes] = [Math.ceil(frame.width / SIDE), file.length - codedAt];
  // asked beforehand: the kernel's own sum is of 32 bits
  if (bytes > MOST_BYTES) return false;
  growMemory(own.memory, own.layOut(components.length, columns, width, bytes));
  const { buffer } = own.memory;
  if (buffer.byteLength > MOST_KEPT) kept = null;
  if (!putComponents(own, frame)) return false;
  const [across, down] = [halfWaves(frame.width), halfWaves(frame.height)];
  new Float32Array(buffer, own.acrossAt(), 2 * across.inner.length).set([...across.inner, ...across.last]);
  const dataAt = own.dataAt();
  new Uint8Array(buffer, dataAt, bytes).set(file.subarray(codedAt));

  const readBlocks = blockReader(own, frame.restartInterval, dataAt + bytes);
  const out = new Uint8Array(buffer, own.outAt(), KEPT * width * components.length);
  putRowWeights(own, down.inner);
  for (let top = 0; top < height; top += KEPT) {
    const rows = Math.min(KEPT, height - top);
    if (top + KEPT >= height) putRowWeights(own, down.last);
    if (!readBlocks(columns)) return false;
    own.endRow(rows, width, Number(frame.isYcc), Number(layout.inverted));
    put(out.subarray(0, rows * width * components.length));
  }
  return readBlocks(0);
}

/**
 * Reads the coded data from its beginning.
 *
 * @param interval  columns of blocks after which coding begins anew; 0 where it never does
 * @param end  of the data in the kernel's memory
 * @returns what reads the next columns of blocks, and tells whether they are as they must be; 0 of them: whether the data end
 */
function blockReader(own: Exports, interval: number, end: number): (columns: number) => boolean {
  const markers = new Uint8Array(own.memory.buffer);
  let stopped = own.beginStretch(own.dataAt(), end);
  let [left, restarts] = [interval || Infinity, 0];
  const isMarker = (marker: number): boolean =>
    stopped + 1 < end && markers[stopped + 1] === marker && own.isWithin() !== 0;
  return (columns) => {
    if (columns === 0) return isMarker(EOI);
    for (let toRead = columns; toRead > 0;) {
      if (left === 0) {
        if (!isMarker(RST0 + (restarts % RESTARTS))) return false;
        stopped = own.beginStretch(stopped + 2, end);
        left = interval;
        restarts += 1;
      }
      const count = Math.min(toRead, left);
      if (own.decodeBlocks(count) === 0 || own.isWithin() === 0) return false;
      toRead -= count;
      left -= count;
    }
    return true;
  };
}

/** How waves count in the rows of the next blocks: each weight four times, for four columns at once. */
function putRowWeights(own: Exports, weights: Float32Array): void {
  const four = new Float32Array(own.memory.buffer, own.downAt(), weights.length * 4);
  for (let at = 0; at < four.length; at++) four[at] = weights[at >> 2]!;
}

/** Tables of every component; whether their codes can be read. */
function putComponents(own: Exports, { components }: JpegFrame): boolean {
  const { buffer } = own.memory;
  const places = new Map<CodeTable, number>();
  const put = (table: CodeTable, of: 'means' | 'waves'): number | null => {
    const known = places.get(table);
    if (known !== undefined) return known;
    const entries = codeEntries(table, of);
    if (entries === null) return null;
    const at = own.codesAt(places.size);
    new Uint32Array(buffer, at, entries.length).set(entries);
    places.set(table, at);
    return at;
  };
  for (const [at, { steps, means, waves }] of components.entries()) {
    const [meansAt, wavesAt, placesAt] = [put(means, 'means'), put(waves, 'waves'), own.placesAt(at)];
    if (meansAt === null || wavesAt === null) return false;
    putPlaces(new DataView(buffer, placesAt, PLACES * 8), own.wavesAt(), steps);
    new Uint32Array(buffer, own.componentsAt() + at * COMPONENT_BYTES, 3).set([meansAt, wavesAt, placesAt]);
  }
  return true;
}

/** Where each coded wave is added up, and its step; those that are not kept where they do no harm. */
function putPlaces(places: DataView, wavesAt: number, steps: Uint8Array): void {
  for (let at = 0; at < PLACES; at++) {
    const wave = CODED_ORDER[at] ?? SIDE * SIDE - 1;
    const [down, across] = [Math.floor(wave / SIDE), wave % SIDE];
    const isKept = down < KEPT && across < KEPT;
    places.setUint32(at * 8, wavesAt + (isKept ? down * KEPT + across : KEPT * KEPT) * 4, true);
    places.setFloat32(at * 8 + 4, isKept ? steps[at]! : 0, true);
  }
}
