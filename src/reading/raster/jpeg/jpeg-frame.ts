/** What the segments of a JPEG file before its coded data say. */
export interface JpegFrame {
  readonly width: number;
  readonly height: number;
  readonly components: readonly JpegComponent[];
  /** Blocks after which coding begins anew; 0 where it never does. */
  readonly restartInterval: number;
  /** Luminance and two differences instead of the first three channels. */
  readonly isYcc: boolean;
  /** Where the coded data begins. */
  readonly dataAt: number;
}

/** One channel; all of a frame have one sample for each pixel. */
export interface JpegComponent {
  /** Steps of the 64 waves, in the order they are coded. */
  readonly steps: Uint8Array;
  /** Codes of the block's mean, and of its waves. */
  readonly means: CodeTable;
  readonly waves: CodeTable;
}

/** Huffman codes as a DHT segment has them. */
export interface CodeTable {
  /** How many codes have 1 to 16 bits. */
  readonly counts: Uint8Array;
  /** What each stands for, shortest code first. */
  readonly symbols: Uint8Array;
}

const SOI = 0xd8;
const SOF_BASELINE = 0xc0;
const SOF_EXTENDED = 0xc1;
const DHT = 0xc4;
const SOS = 0xda;
const DQT = 0xdb;
const DRI = 0xdd;
const APP0 = 0xe0;
const APP14 = 0xee;
/** Of application segments at least, behind their length; decoders in use pass over shorter ones. */
const JFIF_BYTES = 14;
const ADOBE_BYTES = 12;
/** Sampling of a component: one sample for each pixel. */
const ONE_BY_ONE = 0x11;
/** In the scan header: all 64 waves at full precision. */
const WHOLE_WAVES = [0, 63, 0];
const WAVES = 64;
const [RED, GREEN, BLUE] = [0x52, 0x47, 0x42];

/**
 * A JPEG file's frame: one scan of 8-bit samples with Huffman codes, coded in sequence, one sample of each channel for each
 * pixel. Null for any other kind, and for whatever is not as it must be.
 *
 * @source ITU-T T.81, annex B (segments) and its tables; Adobe's APP14 as in ITU-T T.872, 6.5.3; from memory
 */
export function jpegFrame(file: Uint8Array): JpegFrame | null {
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  if (file.length < 4 || view.getUint16(0) !== 0xff00 + SOI) return null;
  const steps: Uint8Array[] = [];
  const tables = new Map<number, CodeTable>();
  let frame: Uint8Array | null = null;
  let restartInterval = 0;
  let transform: number | null = null;
  let isJfif = false;
  for (let at = 2; at + 4 <= file.length;) {
    if (file[at] !== 0xff) return null;
    const marker = file[at + 1]!;
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    const end = at + 2 + view.getUint16(at + 2);
    if (end > file.length || end < at + 4) return null;
    const segment = file.subarray(at + 4, end);
    at = end;
    if (marker === SOF_BASELINE || marker === SOF_EXTENDED) frame = segment;
    else if (marker === DHT) {
      if (!readCodes(segment, tables)) return null;
    } else if (marker === DQT) {
      if (!readSteps(segment, steps)) return null;
    } else if (marker === DRI) restartInterval = (segment[0]! << 8) | segment[1]!;
    else if (marker === APP0) isJfif ||= segment.length >= JFIF_BYTES && nameOf(segment) === 'JFIF\0';
    else if (marker === APP14) {
      if (segment.length >= ADOBE_BYTES && nameOf(segment) === 'Adobe') transform = segment[ADOBE_BYTES - 1]!;
    } else if (marker === SOS) {
      if (frame === null) return null;
      const found = componentsOf(frame, segment, steps, tables);
      if (found === null) return null;
      const isYcc = isLuminance(found.names, { transform, isJfif });
      return isYcc === null ? null : { ...found, restartInterval, isYcc, dataAt: at };
    } else if (!isPassedOver(marker)) return null;
  }
  return null;
}

/** Application segments and comments. */
function isPassedOver(marker: number): boolean {
  return (marker >= APP0 && marker <= 0xef) || marker === 0xfe;
}

function nameOf(segment: Uint8Array): string {
  return String.fromCharCode(...segment.subarray(0, 5));
}

function readCodes(segment: Uint8Array, tables: Map<number, CodeTable>): boolean {
  for (let at = 0; at < segment.length;) {
    const which = segment[at]!;
    const counts = segment.slice(at + 1, at + 17);
    const sum = counts.reduce((all, count) => all + count, 0);
    const symbols = segment.slice(at + 17, at + 17 + sum);
    if (counts.length < 16 || symbols.length < sum) return false;
    tables.set(which, { counts, symbols });
    at += 17 + sum;
  }
  return true;
}

function readSteps(segment: Uint8Array, steps: Uint8Array[]): boolean {
  for (let at = 0; at < segment.length;) {
    // steps of 16 bits go with samples of more than 8
    const values = segment.slice(at + 1, at + 1 + WAVES);
    if (segment[at]! > 15 || values.length < WAVES) return false;
    steps[segment[at]!] = values;
    at += 1 + WAVES;
  }
  return true;
}

function componentsOf(
  frame: Uint8Array,
  scan: Uint8Array,
  steps: readonly Uint8Array[],
  tables: ReadonlyMap<number, CodeTable>,
): (Pick<JpegFrame, 'width' | 'height' | 'components'> & { readonly names: readonly number[] }) | null {
  const count = frame[5] ?? 0;
  if (frame[0] !== 8 || frame.length < 6 + 3 * count || scan[0] !== count || scan.length < 4 + 2 * count) return null;
  if (WHOLE_WAVES.some((value, at) => scan[1 + 2 * count + at] !== value)) return null;
  const [height, width] = [(frame[1]! << 8) | frame[2]!, (frame[3]! << 8) | frame[4]!];
  const names: number[] = [];
  const components: JpegComponent[] = [];
  for (let at = 0; at < count; at++) {
    const [name, sampling, which] = frame.subarray(6 + 3 * at);
    const [scanned, codes] = scan.subarray(1 + 2 * at);
    const means = tables.get(codes! >> 4);
    const waves = tables.get(0x10 | (codes! & 15));
    const own = steps[which!];
    if (sampling !== ONE_BY_ONE || scanned !== name || !means || !waves || !own) return null;
    names.push(name!);
    components.push({ steps: own, means, waves });
  }
  return width > 0 && height > 0 && count > 0 ? { width, height, components, names } : null;
}

/** As decoders in use take it: JFIF's segment says it, else Adobe's, else how channels are named. Null where they may differ. */
function isLuminance(
  names: readonly number[],
  { transform, isJfif }: { readonly transform: number | null; readonly isJfif: boolean },
): boolean | null {
  if (names.length === 4) return transform === null || transform === 0 ? false : transform === 2 ? true : null;
  if (names.length !== 3) return false;
  if (isJfif) return transform === 0 ? null : true;
  if (transform !== null) return transform !== 0;
  return !(names[0] === RED && names[1] === GREEN && names[2] === BLUE);
}
