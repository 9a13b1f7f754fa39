import { mkdtemp, open, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bytesHeld, decodeRows, findFaxPlate } from '../../../src/reading/plates/fax-strips.ts';
import { faxRows, NO_TONES } from '../../../src/reading/plates/kernels/fax-tones.ts';
import { tiffFile } from '../../../src/reading/tiff-file.ts';
import { hasTool, run } from '../pdf/outside-tool.ts';
import type { DrawnPlate } from './drawn-plate.ts';
import { copyPlate, drawPlate, numbersOf, writePlate } from './drawn-plate.ts';

let folder = '';
let [path, copied] = ['', ''];
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'fax-'));
  [path, copied] = [join(folder, 'plate.tif'), join(folder, 'copied.tif')];
});
afterAll(() => rm(folder, { recursive: true }));

const width = fc.oneof(fc.integer({ min: 1, max: 70 }), fc.integer({ min: 71, max: 12_000 }));
const height = fc.integer({ min: 1, max: 60 });
const seed = fc.integer({ min: 1 });

/** All rows as pixels, 255 where they are coded black; null where they are not coded as they must be. */
async function decoded(file: string): Promise<Uint8Array | null> {
  const handle = await open(file);
  try {
    const plate = await findFaxPlate(handle, 'plate');
    if (plate === null) throw new Error('a plate in fax group 4 is expected');
    const rows = faxRows({ width: plate.width, ...NO_TONES }, bytesHeld(plate));
    const pixels = new Uint8Array(plate.width * plate.height);
    const isWhole = await decodeRows(handle, plate, rows, { from: 0, until: plate.height }, (y) => {
      const changes = rows.row();
      for (let at = 0; at < changes.length; at += 2) {
        const end = changes[at + 1] ?? plate.width;
        pixels.fill(255, y * plate.width + changes[at]!, y * plate.width + end);
      }
    });
    return isWhole ? pixels : null;
  } finally {
    await handle.close();
  }
}

/** The same by libtiff, through sharp; null where that refuses it. */
async function decodedByLibtiff(file: string | Buffer): Promise<Uint8Array | null> {
  const image = sharp(file, { limitInputPixels: false, unlimited: true, sequentialRead: true, failOn: 'error' });
  return image
    .toColourspace('b-w')
    .negate()
    .raw()
    .toBuffer()
    .catch(() => null);
}

const sameBytes = (one: Uint8Array | null, other: Uint8Array): boolean =>
  one !== null && Buffer.compare(one, other) === 0;

/** A file whose one strip is these bytes. */
function faxFile(plate: Pick<DrawnPlate, 'width' | 'height'>, strip: Uint8Array): Buffer {
  return tiffFile(
    [strip],
    [
      [256, 'long', plate.width],
      [257, 'long', plate.height],
      [258, 'short', 1],
      [259, 'short', 4],
      [262, 'short', 0],
      [277, 'short', 1],
      [278, 'long', plate.height],
      [279, 'long', strip.length],
    ],
  );
}

describe('rows of a plate in fax group 4', () => {
  it('are what libtiff was given to write, of any width and with runs of any length', async () => {
    await fc.assert(
      fc.asyncProperty(width, height, seed, async (...size) => {
        const plate = drawPlate(...size);
        await writePlate(path, plate, true);
        expect(sameBytes(await decoded(path), plate.ink)).toBe(true);
      }),
      { numRuns: 120 },
    );
  });

  it('are what libtiff was given to write with each code that there is for a run', async () => {
    const terminating = Array.from({ length: 63 }, (_, at) => at + 1);
    const runs = [...terminating, ...Array.from({ length: 41 }, (_, at) => (at + 1) * 64)];
    const plate = { width: 5300, height: runs.length * 4, ink: new Uint8Array(5300 * runs.length * 4) };
    for (const [index, pixels] of runs.entries()) {
      // under a white row: a white run and a black one, and a black one at the edge
      for (const [row, from] of [
        [index * 4 + 1, pixels],
        [index * 4 + 3, 0],
      ] as const) {
        plate.ink.fill(255, row * plate.width + from, row * plate.width + from + pixels);
      }
    }
    await writePlate(path, plate, true);
    expect(sameBytes(await decoded(path), plate.ink)).toBe(true);
  });

  it.runIf(hasTool('tiffcp', 'libtiff-tools'))(
    'are the same in strips of any height, in either order of bits',
    async () => {
      const order = fc.constantFrom('lsb2msb' as const, 'msb2lsb' as const);
      await fc.assert(
        fc.asyncProperty(width, height, seed, height, order, async (wide, high, number, perStrip, bits) => {
          const plate = drawPlate(wide, high, number);
          await writePlate(path, plate, true);
          copyPlate(path, copied, Math.min(high, perStrip), bits);
          expect(sameBytes(await decoded(copied), plate.ink)).toBe(true);
        }),
        { numRuns: 60 },
      );
    },
  );

  it('where the file is damaged, are none at all or what libtiff reads of it', async () => {
    let taken = 0;
    await fc.assert(
      fc.asyncProperty(width, height, seed, async (wide, high, number) => {
        await writePlate(path, drawPlate(wide, high, number), true);
        const bytes = await readFile(path);
        const next = numbersOf(number + 1);
        // the strips stand first
        const at = 8 + next(bytes.readUInt32LE(4) - 8);
        bytes[at] = bytes[at]! ^ (1 << next(8));
        await writeFile(copied, bytes);
        const ours = await decoded(copied).catch(() => null);
        if (ours === null) return;
        taken += 1;
        expect(sameBytes(await decodedByLibtiff(copied), ours)).toBe(true);
      }),
      { numRuns: 150 },
    );
    expect(taken).toBeGreaterThan(0);
  });

  it('of any bytes whatever end, and are none at all or what libtiff reads of them', async () => {
    // mostly the codes that go a few columns forth and back
    const codes = [0xff, 0x92, 0x49, 0x24, 0x6d, 0xb6, 0xdb, 0x0c, 0x08, 0x30];
    let taken = 0;
    await fc.assert(
      fc.asyncProperty(width, height, seed, fc.integer({ min: 0, max: 4000 }), async (wide, high, number, length) => {
        const next = numbersOf(number);
        const isCoded = next(2) === 0;
        const strip = Uint8Array.from({ length }, () => (isCoded ? codes[next(codes.length)]! : next(256)));
        const file = faxFile({ width: wide, height: high }, strip);
        await writeFile(copied, file);
        const ours = await decoded(copied);
        if (ours === null) return;
        taken += 1;
        expect(sameBytes(await decodedByLibtiff(file), ours)).toBe(true);
      }),
      { numRuns: 300 },
    );
    expect(taken).toBeGreaterThan(0);
  });

  it.each([
    ['of runs of no length', '001001101010000110111'],
    ['that go a column forth and back', '010011'],
    ['that pass by what is not there', '0001'],
  ])('%s end where the row is full', async (_, code) => {
    const bits = code.repeat(80_000);
    const strip = Uint8Array.from({ length: bits.length >> 3 }, (__, at) =>
      Number.parseInt(bits.slice(at * 8, at * 8 + 8), 2),
    );
    for (const wide of [1, 50, 5000]) {
      await writeFile(copied, faxFile({ width: wide, height: 4 }, strip));
      expect(await decoded(copied)).toBeNull();
    }
  });

  it.runIf(hasTool('gs', 'ghostscript') && hasTool('tiffcp', 'libtiff-tools'))(
    'of a page that Ghostscript screened are what libtiff reads, in one strip as written',
    async () => {
      const screen = '<< /HalftoneType 1 /Frequency 60 /Angle 45 /SpotFunction { abs exch abs add 1 exch sub } >>';
      const ramp =
        '<< /ShadingType 2 /ColorSpace /DeviceGray /Coords [0 0 200 150] ' +
        '/Function << /FunctionType 2 /Domain [0 1] /C0 [0] /C1 [1] /N 1 >> >> shfill showpage';
      run('gs', [
        ...['-q', '-dBATCH', '-dNOPAUSE', '-dSAFER', '-sDEVICE=tiffg4', '-r600', '-dFIXEDMEDIA'],
        ...['-dDEVICEWIDTHPOINTS=200', '-dDEVICEHEIGHTPOINTS=150', `-sOutputFile=${path}`],
        ...['-c', `<< /Install { ${screen} sethalftone } >> setpagedevice`, ramp],
      ]);
      run('tiffcp', ['-c', 'none', path, copied]);
      const ours = await decoded(path);
      expect(sameBytes(await decodedByLibtiff(copied), ours!)).toBe(true);
      const share = ours!.reduce((sum, value) => sum + value / 255, 0) / ours!.length;
      expect(share).toBeGreaterThan(0.3);
      expect(share).toBeLessThan(0.7);
    },
  );
});
