import sharp from 'sharp';
import { wrapAsTiff } from '../../../../src/reading/raster/wrap-as-tiff.ts';
import type { SamplePicture } from '../sample-pictures.ts';

/** A segment of a JPEG file: its marker's second byte, and what follows its length. */
export interface Segment {
  readonly marker: number;
  readonly payload: readonly number[];
}

/** Markers by their second byte. Source: ITU-T T.81, table B.1, from memory. */
export const MARKERS = {
  baseline: 0xc0,
  extended: 0xc1,
  codes: 0xc4,
  start: 0xd8,
  end: 0xd9,
  scan: 0xda,
  steps: 0xdb,
  interval: 0xdd,
  jfif: 0xe0,
  adobe: 0xee,
  comment: 0xfe,
} as const;

const SPACES = { 1: 'b-w', 3: 'srgb', 4: 'cmyk' } as const;
const isFrame = (marker: number): boolean => marker === MARKERS.baseline || marker === MARKERS.extended;
const highAndLow = (number: number): readonly number[] => [number >> 8, number & 255];

/** A file's segments up to its scan's header, and all that follows. */
export function takeApart(file: Uint8Array): { readonly segments: readonly Segment[]; readonly coded: Uint8Array } {
  const segments: Segment[] = [];
  for (let at = 2; segments.at(-1)?.marker !== MARKERS.scan;) {
    const end = at + 2 + ((file[at + 2]! << 8) | file[at + 3]!);
    segments.push({ marker: file[at + 1]!, payload: [...file.subarray(at + 4, end)] });
    at = end;
  }
  const length = segments.reduce((sum, { payload }) => sum + 4 + payload.length, 2);
  return { segments, coded: file.subarray(length) };
}

export function putTogether(segments: readonly Segment[], coded: Uint8Array): Buffer {
  const head = segments.flatMap(({ marker, payload }) => [0xff, marker, ...highAndLow(payload.length + 2), ...payload]);
  return Buffer.concat([Buffer.from([0xff, MARKERS.start, ...head]), coded]);
}

/** A file with some bytes of its segments of one kind changed, by their places. */
export function withBytes(
  file: Uint8Array,
  markers: readonly number[],
  change: (payload: readonly number[]) => Readonly<Record<number, number>>,
): Buffer {
  const { segments, coded } = takeApart(file);
  const changed = segments.map(({ marker, payload }) => {
    const changes = markers.includes(marker) ? change(payload) : {};
    return { marker, payload: payload.map((byte, at) => changes[at] ?? byte) };
  });
  return putTogether(changed, coded);
}

/** A file that says it is of another size; as many blocks must be coded. */
export function withSize(file: Uint8Array, width: number, height: number): Buffer {
  const [[top, bottom], [left, right]] = [highAndLow(height), highAndLow(width)] as [number[], number[]];
  return withBytes(file, [MARKERS.baseline, MARKERS.extended], () => ({ 1: top!, 2: bottom!, 3: left!, 4: right! }));
}

/** A file with these as its only application segments. */
export function withApplication(file: Uint8Array, ...application: readonly Segment[]): Buffer {
  const { segments, coded } = takeApart(file);
  const others = segments.filter(({ marker }) => marker < 0xe0 || marker > 0xef);
  return putTogether([...application, ...others], coded);
}

/** Adobe's segment. Source: ITU-T T.872, 6.5.3, from memory. */
export function adobe(transform: number): Segment {
  return { marker: MARKERS.adobe, payload: [...Buffer.from('Adobe'), 0, 100, 0, 0, 0, 0, transform] };
}

/** JFIF's segment, without a thumbnail. Source: ITU-T T.871, 10.1, from memory. */
export const JFIF: Segment = { marker: MARKERS.jfif, payload: [...Buffer.from('JFIF\0'), 1, 2, 0, 0, 1, 0, 1, 0, 0] };

/** A file whose components have other names. */
export function withNames(file: Uint8Array, names: string): Buffer {
  const codes = [...Buffer.from(names)];
  const frame = withBytes(file, [MARKERS.baseline], () =>
    Object.fromEntries(codes.map((code, at) => [6 + 3 * at, code])),
  );
  return withBytes(frame, [MARKERS.scan], () => Object.fromEntries(codes.map((code, at) => [1 + 2 * at, code])));
}

/** How a file's picture is laid out, its size as its frame says it. */
export function layoutOf(file: Uint8Array, inverted = false) {
  const { payload } = takeApart(file).segments.find(({ marker }) => isFrame(marker))!;
  const [, top, bottom, left, right, channels] = payload as [number, number, number, number, number, 1 | 3 | 4];
  const [pixelWidth, pixelHeight] = [(left << 8) | right, (top << 8) | bottom];
  return { pixelWidth, pixelHeight, channels, inverted, jpeg: true };
}

/** Numbers from 0 to below 1 that look like chance, always the same. */
export function chance(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** A picture each of whose samples is asked for. */
export function pictureOf(
  width: number,
  height: number,
  channels: 1 | 3 | 4,
  sampleAt: (x: number, y: number, channel: number) => number,
): SamplePicture {
  const data = Uint8Array.from({ length: width * height * channels }, (_, at) => {
    const pixel = Math.floor(at / channels);
    return sampleAt(pixel % width, Math.floor(pixel / width), at % channels);
  });
  return { width, height, channels, data: Buffer.from(data) };
}

/** A picture as a JPEG file with one sample of each channel for each pixel. CMYK is coded turned round. */
export async function jpegOf(
  { width, height, channels, data }: SamplePicture,
  options: { readonly quality: number; readonly optimiseCoding?: boolean; readonly progressive?: boolean },
): Promise<Buffer> {
  const layout = { pixelWidth: width, pixelHeight: height, channels, inverted: false, jpeg: false };
  return sharp(wrapAsTiff(data, layout))
    .pipelineColourspace(SPACES[channels])
    .toColourspace(SPACES[channels])
    .jpeg({ ...options, chromaSubsampling: '4:4:4' })
    .toBuffer();
}

/**
 * All samples of a file as it codes them, by libjpeg through sharp.
 *
 * CMYK comes out of libvips turned round, whatever the file says.
 */
export async function decoded(file: Uint8Array): Promise<SamplePicture> {
  const { channels } = layoutOf(file);
  const { data, info } = await sharp(file, { ignoreIcc: true, failOn: 'error' })
    .pipelineColourspace(SPACES[channels])
    .toColourspace(SPACES[channels])
    .raw()
    .toBuffer({ resolveWithObject: true });
  if (info.channels !== channels) throw new Error(`${channels} channels are expected, not ${info.channels}`);
  const asCoded = channels === 4 ? Buffer.from(data.map((level) => 255 - level)) : data;
  return { width: info.width, height: info.height, channels, data: asCoded };
}
