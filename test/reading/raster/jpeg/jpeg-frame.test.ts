import { describe, expect, it } from 'vitest';
import { jpegFrame } from '../../../../src/reading/raster/jpeg/jpeg-frame.ts';
import { adobe, JFIF, MARKERS, putTogether, type Segment } from './jpeg-files.ts';

const CODED = Uint8Array.of(0x12, 0x34, 0xff, MARKERS.end);
const STEPS = Array.from({ length: 64 }, (_, at) => at + 1);

const stepsOf = (which: number, values: readonly number[] = STEPS): Segment => ({
  marker: MARKERS.steps,
  payload: [which, ...values],
});
/** Codes of 2 bits, one for each symbol. */
const codeBytes = (which: number, symbols: readonly number[]): readonly number[] => [
  which,
  ...[0, symbols.length, ...new Array<number>(14).fill(0)],
  ...symbols,
];
const codesOf = (which: number, symbols: readonly number[]): Segment => ({
  marker: MARKERS.codes,
  payload: codeBytes(which, symbols),
});

interface Said {
  readonly names?: readonly number[];
  readonly steps?: readonly number[];
  readonly codes?: readonly number[];
  readonly bits?: number;
  readonly size?: readonly number[];
}

/** 320 by 259 pixels, unless something else is said. */
function frameOf({ names = [1], steps = [0, 0, 0, 0], bits = 8, size = [1, 3, 1, 64] }: Said = {}): Segment {
  const components = names.flatMap((name, at) => [name, 0x11, steps[at]!]);
  return { marker: MARKERS.baseline, payload: [bits, ...size, names.length, ...components] };
}

function scanOf({ names = [1], codes = [0, 0, 0, 0] }: Said = {}): Segment {
  return {
    marker: MARKERS.scan,
    payload: [names.length, ...names.flatMap((name, at) => [name, codes[at]!]), 0, 63, 0],
  };
}

const TABLES = [stepsOf(0), codesOf(0x00, [3, 4]), codesOf(0x10, [0x01, 0x00])];
const fileOf = (segments: readonly Segment[]) => Uint8Array.from(putTogether(segments, CODED));
const frame = (...segments: readonly Segment[]) => jpegFrame(fileOf(segments));
const codesSaid = (symbols: readonly number[]) => ({
  counts: Uint8Array.of(0, symbols.length, ...new Array<number>(14).fill(0)),
  symbols: Uint8Array.from(symbols),
});

describe('the frame of a JPEG file', () => {
  it('has the size, the steps and codes of each channel, and where the coded data begins', () => {
    const file = fileOf([...TABLES, frameOf(), scanOf()]);
    expect(jpegFrame(file)).toMatchObject({
      width: 320,
      height: 259,
      components: [{ steps: Uint8Array.from(STEPS), means: codesSaid([3, 4]), waves: codesSaid([1, 0]) }],
      restartInterval: 0,
      isYcc: false,
      dataAt: file.length - CODED.length,
    });
  });

  it('is found in a file that does not begin at the beginning of its memory', () => {
    const file = fileOf([...TABLES, frameOf(), scanOf()]);
    const within = Uint8Array.of(0xff, 0xd9, 0, ...file).subarray(3);
    expect(jpegFrame(within)).toEqual(jpegFrame(file));
  });

  it('gives each channel the tables it names, the last that were said before the scan', () => {
    const others = STEPS.map((step) => 100 + step);
    const names = [1, 2, 3];
    const found = frame(
      ...[stepsOf(0, others), stepsOf(2, others), codesOf(0x00, [9]), ...TABLES],
      frameOf({ names, steps: [0, 2, 0] }),
      { marker: MARKERS.codes, payload: [...codeBytes(0x01, [5]), ...codeBytes(0x13, [6, 7])] },
      scanOf({ names, codes: [0x00, 0x03, 0x10] }),
    );
    expect(found?.components.map(({ steps }) => steps[0])).toEqual([1, 101, 1]);
    expect(found?.components.map(({ means }) => [...means.symbols])).toEqual([[3, 4], [3, 4], [5]]);
    expect(found?.components.map(({ waves }) => [...waves.symbols])).toEqual([
      [1, 0],
      [6, 7],
      [1, 0],
    ]);
  });

  it('passes over comments, other programs’ segments and bytes that fill up before a marker', () => {
    const whole = [...TABLES, frameOf(), scanOf()];
    const comment = { marker: MARKERS.comment, payload: [0xff, 0xda, 0xff] };
    const profile = { marker: 0xe2, payload: [...Buffer.from('ICC_PROFILE\0'), 1, 1] };
    const plain = frame(...whole);
    expect({ ...frame(comment, profile, ...whole), dataAt: 0 }).toEqual({ ...plain, dataAt: 0 });
    const file = fileOf(whole);
    const filled = Uint8Array.of(...file.subarray(0, 2), 0xff, 0xff, 0xff, ...file.subarray(2));
    expect(jpegFrame(filled)).toEqual({ ...plain, dataAt: plain!.dataAt + 3 });
  });

  it('takes a frame called extended where it is of the same kind', () => {
    const extended = { ...frameOf(), marker: MARKERS.extended };
    expect(frame(...TABLES, extended, scanOf())).toEqual(frame(...TABLES, frameOf(), scanOf()));
  });

  it('says after how many blocks coding begins anew', () => {
    const interval = { marker: MARKERS.interval, payload: [1, 2] };
    expect(frame(...TABLES, interval, frameOf(), scanOf())?.restartInterval).toBe(258);
  });

  const RGB = [0x52, 0x47, 0x42];
  it.each([
    ['grey', [1], [], false],
    ['grey with JFIF’s segment', [1], [JFIF], false],
    ['three channels', [1, 2, 3], [], true],
    ['three named R, G, B', RGB, [], false],
    ['three named r, g, b', [0x72, 0x67, 0x62], [], true],
    ['three with JFIF’s segment, whatever their names', RGB, [JFIF], true],
    ['three with Adobe’s 0', [1, 2, 3], [adobe(0)], false],
    ['three with Adobe’s 1, whatever their names', RGB, [adobe(1)], true],
    ['three with JFIF’s segment and Adobe’s 1', [1, 2, 3], [JFIF, adobe(1)], true],
    ['four channels', [1, 2, 3, 4], [], false],
    ['four with Adobe’s 0', [1, 2, 3, 4], [adobe(0)], false],
    ['four with Adobe’s 2', [1, 2, 3, 4], [adobe(2)], true],
    [
      'three with an Adobe segment that is too short',
      RGB,
      [{ ...adobe(1), payload: adobe(1).payload.slice(0, 11) }],
      false,
    ],
    ['three with a JFIF segment that is too short', RGB, [{ ...JFIF, payload: JFIF.payload.slice(0, 13) }], false],
    [
      'three with a segment of Adobe’s number by somebody else',
      RGB,
      [{ ...adobe(1), payload: [...Buffer.from('Adobf1234567')] }],
      false,
    ],
  ])('tells whether channels are luminance and differences: %s', (_, names, application, isYcc) => {
    expect(frame(...application, ...TABLES, frameOf({ names }), scanOf({ names }))?.isYcc).toBe(isYcc);
  });
});

describe('a file that has no such frame', () => {
  const good = [...TABLES, frameOf(), scanOf()];
  const instead = (
    marker: number,
    change: (payload: readonly number[]) => readonly number[],
    as = marker,
  ): readonly Segment[] =>
    good.map((one) => (one.marker === marker ? { marker: as, payload: change(one.payload) } : one));
  const at = (place: number, byte: number) => (payload: readonly number[]) => payload.with(place, byte);
  const same = (payload: readonly number[]) => payload;
  const names = [1, 2, 3];

  it('would have one without what is wrong with it', () => {
    expect(frame(...good)).not.toBeNull();
    expect(frame(...TABLES, frameOf({ names }), scanOf({ names }))).not.toBeNull();
  });

  it.each<readonly [string, readonly Segment[]]>([
    ['is coded in steps', instead(MARKERS.baseline, same, 0xc2)],
    ['is coded without loss', instead(MARKERS.baseline, same, 0xc3)],
    ['is coded arithmetically', instead(MARKERS.baseline, same, 0xc9)],
    ['says how it is coded arithmetically', [{ marker: 0xcc, payload: [0, 0] }, ...good]],
    ['has samples of 12 bits', instead(MARKERS.baseline, at(0, 12))],
    ['has no height yet', instead(MARKERS.baseline, (payload) => payload.with(1, 0).with(2, 0))],
    ['has no width', instead(MARKERS.baseline, (payload) => payload.with(3, 0).with(4, 0))],
    ['has no channels', [...TABLES, frameOf({ names: [] }), scanOf({ names: [] })]],
    ['has a channel less than it says', instead(MARKERS.baseline, (payload) => payload.slice(0, -3))],
    ['has two samples of a channel across a pixel', instead(MARKERS.baseline, at(7, 0x21))],
    ['has two samples of a channel down a pixel', instead(MARKERS.baseline, at(7, 0x12))],
    ['names steps that were not said', instead(MARKERS.baseline, at(8, 1))],
    ['has steps of 16 bits', instead(MARKERS.steps, (payload) => [0x10, ...payload.slice(1), ...STEPS])],
    ['has a step less than there are waves', instead(MARKERS.steps, (payload) => payload.slice(0, -1))],
    ['names codes of a mean that were not said', instead(MARKERS.scan, at(2, 0x10))],
    ['names codes of waves that were not said', instead(MARKERS.scan, at(2, 0x01))],
    ['has codes without their numbers', instead(MARKERS.codes, (payload) => payload.slice(0, 16))],
    ['has codes without all their symbols', instead(MARKERS.codes, (payload) => payload.slice(0, -1))],
    ['has a scan of other channels', instead(MARKERS.scan, at(1, 2))],
    ['has a scan of some of its channels', [...TABLES, frameOf({ names }), scanOf()]],
    ['has a scan of its channels in another order', [...TABLES, frameOf({ names }), scanOf({ names: [1, 3, 2] })]],
    ['has a scan from the second wave on', instead(MARKERS.scan, at(3, 1))],
    ['has a scan of the mean only', instead(MARKERS.scan, at(4, 0))],
    ['has a scan of all but the lowest bit', instead(MARKERS.scan, at(5, 1))],
    ['has a scan that ends too early', instead(MARKERS.scan, (payload) => payload.slice(0, -1))],
    ['has a scan before its frame', [...TABLES, scanOf(), frameOf()]],
    ['says its height later', [...TABLES, frameOf(), { marker: 0xdc, payload: [0, 8] }, scanOf()]],
    [
      'calls four channels luminance and differences of three',
      [...[adobe(1), ...TABLES], ...[frameOf({ names: [1, 2, 3, 4] }), scanOf({ names: [1, 2, 3, 4] })]],
    ],
    [
      'is RGB to one segment and something else to another',
      [...[JFIF, adobe(0), ...TABLES], ...[frameOf({ names }), scanOf({ names })]],
    ],
  ])('%s', (_, segments) => {
    expect(frame(...segments)).toBeNull();
  });

  it('is no JPEG file, or none any more', () => {
    const file = fileOf(good);
    const gone = file.length - CODED.length;
    for (let length = 0; length < gone; length++) expect(jpegFrame(file.subarray(0, length))).toBeNull();
    expect(jpegFrame(file.subarray(0, gone))?.dataAt).toBe(gone);
    expect([jpegFrame(Buffer.from('%PDF-1.7')), jpegFrame(file.subarray(1))]).toEqual([null, null]);
  });

  it('has something else between its segments', () => {
    const file = fileOf(good);
    expect(jpegFrame(Uint8Array.of(...file.subarray(0, 2), 0, ...file.subarray(2)))).toBeNull();
    const shorter = Buffer.from(file);
    shorter.writeUInt16BE(1, 4);
    expect(jpegFrame(shorter)).toBeNull();
  });
});
