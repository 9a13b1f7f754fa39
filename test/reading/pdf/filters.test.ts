import { deflateRawSync, deflateSync } from 'node:zlib';
import * as fc from 'fast-check';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { decodeAscii85 } from '../../../src/reading/pdf/filters/ascii85.ts';
import { decodeAsciiHex } from '../../../src/reading/pdf/filters/ascii-hex.ts';
import { inflate } from '../../../src/reading/pdf/filters/flate.ts';
import { decodeLzw } from '../../../src/reading/pdf/filters/lzw.ts';
import { undoPrediction } from '../../../src/reading/pdf/filters/predictor.ts';
import { decodeRunLength } from '../../../src/reading/pdf/filters/run-length.ts';
import { refusalOf } from '../../refusal-of.ts';

const PLENTY = 2 ** 24;
const text = (characters: string): Buffer => Buffer.from(characters, 'latin1');
const hex = (bytes: Uint8Array): string => Buffer.from(bytes).toString('hex');

/** ASCII85 as the standard's formula has it, a group at a time. */
function encodeAscii85(bytes: Uint8Array): string {
  let coded = '';
  for (let at = 0; at < bytes.length; at += 4) {
    const group = [0, 1, 2, 3].map((index) => bytes[at + index] ?? 0);
    const count = Math.min(4, bytes.length - at);
    let value = group.reduce((sum, byte) => sum * 256 + byte, 0);
    const digits: string[] = [];
    for (let digit = 0; digit < 5; digit += 1) {
      digits.unshift(String.fromCharCode(33 + (value % 85)));
      value = Math.floor(value / 85);
    }
    coded += count === 4 && digits.join('') === '!!!!!' ? 'z' : digits.slice(0, count + 1).join('');
  }
  return `${coded}~>`;
}

/** The strips of a TIFF file (little-endian, one page), joined. */
function tiffStrips(file: Buffer): { readonly strips: readonly Buffer[]; readonly rowsPerStrip: number } {
  const entries = new Map<number, readonly number[]>();
  const directory = file.readUInt32LE(4);
  for (let entry = 0; entry < file.readUInt16LE(directory); entry += 1) {
    const at = directory + 2 + entry * 12;
    const isShort = file.readUInt16LE(at + 2) === 3;
    const count = file.readUInt32LE(at + 4);
    const from = count * (isShort ? 2 : 4) > 4 ? file.readUInt32LE(at + 8) : at + 8;
    const value = (index: number): number =>
      isShort ? file.readUInt16LE(from + 2 * index) : file.readUInt32LE(from + 4 * index);
    entries.set(
      file.readUInt16LE(at),
      Array.from({ length: count }, (_, index) => value(index)),
    );
  }
  const lengths = entries.get(279) ?? [];
  return {
    strips: (entries.get(273) ?? []).map((offset, index) => file.subarray(offset, offset + lengths[index]!)),
    rowsPerStrip: entries.get(278)?.[0] ?? 0,
  };
}

describe('lossless filters give the bytes back', () => {
  it('ASCII85, white space and all', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), fc.nat(20), (bytes, every) => {
        const spaced = encodeAscii85(bytes).replace(new RegExp(`(.{${every + 1}})`, 'g'), '$1 \n');
        expect(hex(decodeAscii85(text(spaced.replace(/~\s*>/, '~>'))))).toBe(hex(bytes));
      }),
    );
    // Long runs take a quicker way, zeros in it another.
    const long = Buffer.from(Array.from({ length: 9000 }, (_, index) => (index % 700 < 40 ? 0 : (index * 97) & 255)));
    expect(hex(decodeAscii85(text(`<~${encodeAscii85(long)}`)))).toBe(hex(long));
  });

  it('ASCIIHex, an odd digit standing for itself and a zero', () => {
    expect(hex(decodeAsciiHex(text('4a 4B\n7>99')))).toBe('4a4b70');
  });

  it('RunLength', () => {
    expect(hex(decodeRunLength(Buffer.from([2, 1, 2, 3, 254, 9, 0, 7, 128, 5]), PLENTY))).toBe('01020309090907');
  });

  it('LZW: the example of ISO 32000-2 7.4.4.2', () => {
    expect(hex(decodeLzw(Buffer.from('800b6050220c0c8501', 'hex'), true, PLENTY))).toBe('2d2d2d2d2d412d2d2d42');
  });

  it('LZW as another program codes it, through full tables', async () => {
    const raw = Buffer.from(
      Array.from({ length: 200 * 200 * 3 }, (_, index) => (index * index * 31 + (index >> 3)) & 255),
    );
    const file = await sharp(raw, { raw: { width: 200, height: 200, channels: 3 } })
      .tiff({ compression: 'lzw', predictor: 'none' })
      .toBuffer();
    const { strips } = tiffStrips(file);
    const decoded = Buffer.concat(strips.map((strip) => decodeLzw(strip, true, PLENTY)));
    expect(decoded.equals(raw)).toBe(true);
  });

  it('LZW with the TIFF predictor as another program codes it', async () => {
    const raw = Buffer.from(Array.from({ length: 64 * 48 * 3 }, (_, index) => (index * 7 + (index % 5) * 40) & 255));
    const file = await sharp(raw, { raw: { width: 64, height: 48, channels: 3 } })
      .tiff({ compression: 'lzw', predictor: 'horizontal' })
      .toBuffer();
    const prediction = { predictor: 2, colors: 3, bitsPerComponent: 8, columns: 64 };
    const decoded = tiffStrips(file).strips.map((strip) => undoPrediction(decodeLzw(strip, true, PLENTY), prediction));
    expect(Buffer.concat(decoded).equals(raw)).toBe(true);
  });

  it('the TIFF predictor of samples of 4 and 16 bits', () => {
    const four = { predictor: 2, colors: 1, bitsPerComponent: 4, columns: 4 };
    // Samples 1, 3, 2, 0 as differences 1, 2, -1, -2.
    expect(hex(undoPrediction(Buffer.from('12fe', 'hex'), four))).toBe('1320');
    const sixteen = { predictor: 2, colors: 1, bitsPerComponent: 16, columns: 3 };
    expect(hex(undoPrediction(Buffer.from('00ff0001ffff', 'hex'), sixteen))).toBe('00ff010000ff');
  });

  it('each PNG predictor', () => {
    const columns = 5;
    const colors = 3;
    const width = columns * colors;
    const law = fc.property(
      fc.array(fc.tuple(fc.nat(4), fc.uint8Array({ minLength: width, maxLength: width })), {
        minLength: 1,
        maxLength: 8,
      }),
      (rows) => {
        const predicted = rows.map(([filter, row], index) => {
          const above = rows[index - 1]?.[1] ?? new Uint8Array(width);
          return Buffer.from([filter, ...Array.from(row, (value, i) => value - guess(filter, row, above, i, colors))]);
        });
        const prediction = { predictor: 15, colors, bitsPerComponent: 8, columns };
        expect(hex(undoPrediction(Buffer.concat(predicted), prediction))).toBe(
          rows.map(([, row]) => hex(row)).join(''),
        );
      },
    );
    fc.assert(law);
  });
});

/** What PNG predicts for a byte, in the words of its specification. */
function guess(filter: number, row: Uint8Array, above: Uint8Array, index: number, step: number): number {
  const a = row[index - step] ?? 0;
  const b = above[index] ?? 0;
  const c = above[index - step] ?? 0;
  const p = a + b - c;
  const [pa, pb, pc] = [Math.abs(p - a), Math.abs(p - b), Math.abs(p - c)];
  const paeth = pa <= pb && pa <= pc ? a : pb <= pc ? b : c;
  return [0, a, b, Math.floor((a + b) / 2), paeth][filter]!;
}

describe('Flate data that are damaged give what comes before the damage', () => {
  const plain = Buffer.from(Array.from({ length: 20_000 }, (_, index) => (index * index) & 255));
  const coded = deflateSync(plain);

  it('cut short anywhere', () => {
    for (const cut of [0, 1, 2, 3, 50, 1000, coded.length - 5, coded.length - 1]) {
      const part = inflate(coded.subarray(0, cut), PLENTY);
      expect(plain.subarray(0, part.length).equals(part)).toBe(true);
    }
    expect(inflate(coded.subarray(0, coded.length - 4), PLENTY).length).toBe(plain.length);
  });

  it('with a wrong checksum, without a header, with bytes after the end', () => {
    const wrong = Buffer.from(coded);
    wrong[wrong.length - 1]! ^= 255;
    expect(plain.equals(inflate(wrong, PLENTY))).toBe(true);
    expect(plain.equals(inflate(deflateRawSync(plain), PLENTY))).toBe(true);
    expect(plain.equals(inflate(Buffer.concat([coded, text('\nendstream')]), PLENTY))).toBe(true);
  });

  it('with a byte overwritten in the middle', () => {
    // Noise packs evenly, so that the middle of the packed bytes is the middle of the data.
    let state = 1;
    const noise = Buffer.from(Array.from({ length: 60_000 }, () => (state = (state * 16_807) % 2_147_483_647) & 63));
    const long = deflateSync(noise);
    long.fill(0xff, long.length >> 1, (long.length >> 1) + 40);
    const part = inflate(long, PLENTY);
    expect(part.length).toBeGreaterThan(28_000);
    expect(noise.subarray(0, 28_000).equals(part.subarray(0, 28_000))).toBe(true);
  });
});

describe('a limit holds while unfolding', () => {
  const refused = { kind: 'too-large', what: 'a stream when unfolded', limit: 1000, unit: 'bytes' };

  it.each<[string, () => Uint8Array]>([
    ['Flate', () => inflate(deflateSync(Buffer.alloc(10_000_000)), 1000)],
    ['RunLength', () => decodeRunLength(Buffer.from(Array.from({ length: 40 }, () => 129)), 1000)],
    ['LZW', () => decodeLzw(Buffer.alloc(3000), true, 1000)],
  ])('%s', (_, unfold) => {
    expect(refusalOf(unfold)).toMatchObject(refused);
  });
});
