import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { halfJpeg } from '../../../../src/reading/raster/jpeg/half-jpeg.ts';
import { hasTool, run } from '../../pdf/outside-tool.ts';
import { photo, type SamplePicture } from '../sample-pictures.ts';
import { shiftOfWave, waves } from '../wave-strip.ts';
import { asCoded, halved, mostOff, noise, SIZES } from './halved-files.ts';
import {
  adobe,
  chance,
  JFIF,
  jpegOf,
  layoutOf,
  MARKERS,
  pictureOf,
  putTogether,
  takeApart,
  withApplication,
  withBytes,
  withNames,
  withSize,
} from './jpeg-files.ts';

let folder = '';
beforeAll(async () => (folder = await mkdtemp(join(tmpdir(), 'half-jpeg-'))));
afterAll(() => rm(folder, { recursive: true }));

/** Each sample black or white: waves as large as they get, and pixels that lie beyond either end. */
const blackAndWhite = (width: number, height: number, channels: 1 | 3 | 4): SamplePicture => {
  const next = chance(width + height + channels);
  return pictureOf(width, height, channels, () => (next() < 0.5 ? 0 : 255));
};

/** Each block black or white: means that differ as much as they can. */
const blocks = (width: number, height: number, channels: 1 | 3 | 4): SamplePicture =>
  pictureOf(width, height, channels, (x, y, channel) => (((x >> 3) ^ (y >> 3) ^ channel) & 1) * 255);

/**
 * A photograph that nothing is clipped of: the outside decoder clips each of its samples where we clip each pixel, which
 * made up to 5 levels where the photograph reached black and white.
 */
async function softPhoto(width: number, height: number, channels: 1 | 3 | 4): Promise<SamplePicture> {
  const picture = await photo(width, height, channels);
  return { ...picture, data: Buffer.from(picture.data.map((level) => 64 + (level >> 1))) };
}

// One level: either side rounds once, ours each pixel, the other each of the samples that its waves are taken from; the
// mean difference from levels that are not rounded was 0.26, and 0.25 is what rounding alone makes.
describe.each([1, 3, 4] as const)(
  'half of a JPEG of %i channels is the slow waves of its blocks to a level',
  (channels) => {
    describe.each([true, false])('with codes made for it: %s', (optimiseCoding) => {
      it.each(SIZES)('noise of %i by %i', async (width, height) => {
        const file = await jpegOf(noise(width, height, channels), { quality: 100, optimiseCoding });
        expect(await mostOff(asCoded(file))).toBeLessThanOrEqual(1);
      });

      it.each(SIZES)('black and white samples, %i by %i', async (width, height) => {
        const file = await jpegOf(blackAndWhite(width, height, channels), { quality: 100, optimiseCoding });
        expect(await mostOff(asCoded(file))).toBeLessThanOrEqual(1);
      });

      it.each(SIZES)('black and white blocks, %i by %i', async (width, height) => {
        const file = await jpegOf(blocks(width, height, channels), { quality: 100, optimiseCoding });
        expect(await mostOff(asCoded(file))).toBeLessThanOrEqual(1);
      });

      it.each(SIZES)('a photograph of %i by %i at quality 90 and 75', async (width, height) => {
        const picture = await softPhoto(width, height, channels);
        for (const quality of [90, 75]) {
          const file = await jpegOf(picture, { quality, optimiseCoding });
          expect(await mostOff(asCoded(file))).toBeLessThanOrEqual(1);
        }
      });
    });

    it('turned round where the layout says so', async () => {
      const file = asCoded(await jpegOf(noise(63, 41, channels), { quality: 100 }));
      expect(await mostOff(file, true)).toBeLessThanOrEqual(1);
      expect(halved(file, true)).toEqual(Buffer.from(halved(file)!.map((level) => 255 - level)));
    });
  },
);

describe('the colours of half a JPEG', () => {
  /** A photograph; four channels may also be luminance, two small differences and a fourth: nothing of that is clipped. */
  const softInAnyCase = async (channels: 3 | 4): Promise<SamplePicture> => {
    const soft = await softPhoto(203, 117, channels);
    if (channels === 3) return soft;
    const data = soft.data.map((level, at) => ([1, 2].includes(at % channels) ? 112 + (level >> 3) : level));
    return { ...soft, data: Buffer.from(data) };
  };
  const NAMED_RGB = (file: Buffer) => withNames(withApplication(file), 'RGB');
  const KINDS: readonly (readonly [name: string, channels: 3 | 4, (file: Buffer) => Buffer, isYcc: boolean])[] = [
    ['three named R, G, B', 3, NAMED_RGB, false],
    ['three that Adobe’s segment calls 0', 3, (file) => withApplication(file, adobe(0)), false],
    ['three that nothing is said of', 3, (file) => withApplication(file), true],
    ['three that Adobe’s segment calls 1', 3, (file) => withApplication(file, adobe(1)), true],
    ['three with JFIF’s segment', 3, (file) => withApplication(file, JFIF), true],
    ['three with JFIF’s segment, named R, G, B', 3, (file) => withNames(withApplication(file, JFIF), 'RGB'), true],
    ['four that nothing is said of', 4, (file) => withApplication(file), false],
    ['four that Adobe’s segment calls 0', 4, (file) => withApplication(file, adobe(0)), false],
    ['four that Adobe’s segment calls 2', 4, (file) => withApplication(file, adobe(2)), true],
    ['four with JFIF’s segment', 4, (file) => withApplication(file, JFIF), false],
  ];

  // Three levels where they are luminance and differences, which was so for 8 values in 18,054 of a photograph in colour:
  // these are a level off at most, as above, and a level of luminance and one of a difference are 1 and 1.772 of blue.
  it.each(KINDS)('are what libjpeg makes of the same bytes: %s', async (_, channels, change, isYcc) => {
    const file = await jpegOf(await softInAnyCase(channels), { quality: 90 });
    expect(await mostOff(change(file))).toBeLessThanOrEqual(isYcc ? 3 : 1);
  });

  it.each([
    [3, (file: Buffer) => withApplication(file, JFIF)],
    [4, (file: Buffer) => withApplication(file, adobe(2))],
  ] as const)('of %i channels are those of the halved luminance and differences', async (channels, change) => {
    const file = await jpegOf(noise(64, 48, channels), { quality: 100 });
    const planes = halved(channels === 3 ? NAMED_RGB(file) : withApplication(file))!;
    // Source: ITU-T T.871, 7, and for four channels the inks are what is left of them (ITU-T T.872), from memory.
    const exact = Array.from(planes, (level, at) => {
      const channel = at % channels;
      const [y, blue, red] = planes.subarray(at - channel) as unknown as [number, number, number];
      const [cb, cr] = [blue - 128, red - 128];
      const colour = [y + 1.402 * cr, y - 0.344136 * cb - 0.714136 * cr, y + 1.772 * cb][channel];
      if (colour === undefined) return level;
      const clipped = Math.min(255, Math.max(0, colour));
      return channels === 4 ? 255 - clipped : clipped;
    });
    // half a level, and what constants of 16 bits are off: 128 times 2^-17 for each of two at most
    const found = halved(change(file))!;
    const tooFar = exact.filter((level, at) => Math.abs(level - found[at]!) > 0.5 + 0.002);
    expect(tooFar).toEqual([]);
  });

  it.each([
    ['three, once as RGB and once as something else', 3, [JFIF, adobe(0)]],
    ['four, as luminance and differences of three', 4, [adobe(1)]],
  ] as const)('are left to the library where the file contradicts itself: %s', async (_, channels, application) => {
    const file = await jpegOf(noise(16, 16, channels), { quality: 90 });
    expect(halved(file)).not.toBeNull();
    expect(halved(withApplication(file, ...application))).toBeNull();
  });

  it('are not told by application segments that are too short', async () => {
    const file = await jpegOf(await softPhoto(203, 117, 3), { quality: 90 });
    const shortened = { ...adobe(0), payload: adobe(0).payload.slice(0, 11) };
    expect(await mostOff(withApplication(file, shortened))).toBeLessThanOrEqual(3);
    const shortJfif = { ...JFIF, payload: JFIF.payload.slice(0, 13) };
    expect(await mostOff(withNames(withApplication(file, shortJfif), 'RGB'))).toBeLessThanOrEqual(1);
  });
});

describe('a JPEG whose coding begins anew', () => {
  it.runIf(hasTool('jpegtran', 'libjpeg-turbo-progs'))(
    'is the same as without, and refused if one is out of turn',
    async () => {
      const [plain, restarting] = [join(folder, 'plain.jpg'), join(folder, 'restarting.jpg')];
      for (const channels of [1, 3, 4] as const) {
        const file = await jpegOf(noise(70, 50, channels), { quality: 95 });
        await writeFile(plain, file);
        run('jpegtran', ['-restart', '3B', '-outfile', restarting, plain]);
        const changed = await readFile(restarting);
        expect(takeApart(changed).segments.find(({ marker }) => marker === MARKERS.interval)?.payload).toEqual([0, 3]);
        expect(halved(changed)).toEqual(halved(file));
        const second = changed.indexOf(Buffer.from([0xff, 0xd1]));
        changed[second + 1] = 0xd2;
        expect(halved(changed)).toBeNull();
      }
    },
  );
});

describe('half a JPEG beside what others make of it', () => {
  // djpeg's half is the mean of two by two full samples: it keeps the fast waves too, folded into the slow ones. In a
  // smooth picture there are hardly any: 0.04 levels in the mean. It was 1.0 to 1.2 in one that is sharp.
  it.runIf(hasTool('djpeg', 'libjpeg-turbo-progs')).each([1, 3] as const)(
    'is what djpeg shows of a smooth photograph of %i channels',
    async (channels) => {
      const [width, height] = [416, 240];
      const small = await softPhoto(52, 30, channels);
      const raw = { width: 52, height: 30, channels };
      const smooth = await sharp(small.data, { raw })
        .resize(width, height, { kernel: 'cubic' })
        .toColourspace(channels === 1 ? 'b-w' : 'srgb')
        .raw()
        .toBuffer();
      const file = await jpegOf({ width, height, channels, data: smooth }, { quality: 95 });
      const [path, shown] = [join(folder, 'smooth.jpg'), join(folder, 'smooth.pnm')];
      await writeFile(path, file);
      run('djpeg', ['-scale', '4/8', '-outfile', shown, path]);
      const found = halved(file)!;
      const expected = (await readFile(shown)).subarray(-found.length);
      const mean = found.reduce((sum, level, at) => sum + Math.abs(level - expected[at]!), 0) / found.length;
      expect(mean).toBeLessThan(0.05);
    },
  );

  it.each([4000, 4001, 4003])('shows everything in its place, of %i samples', async (width) => {
    const file = await jpegOf(
      { width, height: 15, channels: 1, data: Buffer.from(waves(width, 15, 1)) },
      { quality: 100 },
    );
    const row = [...halved(file)!.subarray(0, Math.ceil(width / 2))];
    for (const wave of [1, 18, 35]) expect(Math.abs(shiftOfWave(row, wave, width / 2))).toBeLessThan(0.03);
  });
});

describe('a JPEG that is left to the library', () => {
  let grey: Buffer;
  let colour: Buffer;
  beforeAll(async () => {
    grey = await jpegOf(noise(40, 24, 1), { quality: 90 });
    colour = await jpegOf(noise(40, 24, 3), { quality: 90 });
  });
  const converted = async (file: Buffer, ...words: readonly string[]): Promise<Buffer> => {
    const [from, to] = [join(folder, 'from.jpg'), join(folder, 'to.jpg')];
    await writeFile(from, file);
    run('jpegtran', [...words, '-outfile', to, from]);
    return readFile(to);
  };

  it('would be taken without what is wrong with it', () => {
    expect([halved(grey)?.length, halved(colour)?.length]).toEqual([20 * 12, 20 * 12 * 3]);
  });

  it('is coded in steps', async () => {
    const file = await jpegOf(noise(40, 24, 3), { quality: 90, progressive: true });
    expect(halfJpeg(file, layoutOf(colour))).toBeNull();
  });

  it('has fewer samples of its colours', async () => {
    const { data, width, height, channels } = noise(40, 24, 3);
    const file = await sharp(data, { raw: { width, height, channels } })
      .jpeg({ chromaSubsampling: '4:2:0' })
      .toBuffer();
    expect(halved(file)).toBeNull();
  });

  it.runIf(hasTool('jpegtran', 'libjpeg-turbo-progs'))('is coded arithmetically', async () => {
    const file = await converted(grey, '-arithmetic');
    expect(file.includes(Buffer.from([0xff, 0xc9]))).toBe(true);
    expect(halfJpeg(file, layoutOf(grey))).toBeNull();
  });

  it.runIf(hasTool('jpegtran', 'libjpeg-turbo-progs'))('has a scan for each channel', async () => {
    const scans = join(folder, 'scans.txt');
    await writeFile(scans, '0;\n1;\n2;\n');
    const file = await converted(colour, '-scans', scans);
    expect(layoutOf(file)).toEqual(layoutOf(colour));
    expect(halved(file)).toBeNull();
  });

  it('says that it has samples of 12 bits', () => {
    const eight = withBytes(grey, [MARKERS.baseline], () => ({ 0: 8 }));
    expect([halved(eight), halved(withBytes(grey, [MARKERS.baseline], () => ({ 0: 12 })))]).toEqual([
      halved(grey),
      null,
    ]);
  });

  it('is of another size or of other channels than the page says', () => {
    const layout = layoutOf(grey);
    const others = [
      { pixelWidth: 39 },
      { pixelHeight: 23 },
      { pixelWidth: 24, pixelHeight: 40 },
      { channels: 3 as const },
    ];
    expect(others.map((other) => halfJpeg(grey, { ...layout, ...other }))).toEqual([null, null, null, null]);
  });

  it('says that it has a row of blocks more than it has', () => {
    expect(halved(withSize(grey, 40, 25))).toBeNull();
  });

  it('ends without saying so', () => {
    expect([halved(grey.subarray(0, -2)), halved(grey.subarray(0, -1))]).toEqual([null, null]);
    expect(halved(Buffer.concat([grey, Buffer.from('more')]))).toEqual(halved(grey));
  });

  it('goes on with a second scan', () => {
    const { segments, coded } = takeApart(grey);
    const again = putTogether(segments.slice(-1), coded).subarray(2);
    expect(halved(Buffer.concat([grey.subarray(0, -2), again]))).toBeNull();
  });

  it('has codes that there is no room for', () => {
    expect(halved(withBytes(grey, [MARKERS.codes], () => ({ 1: 3 })))).toBeNull();
  });

  // 150 rows of blocks are there: more than the kernel's memory that is kept from picture to picture has room for.
  it.each([
    [65_535, 65_535],
    [65_535, 32_769],
  ])('takes more memory than there is for it: %i by %i pixels', async (width, height) => {
    const flat = await jpegOf(
      pictureOf(8, 8, 4, () => 127),
      { quality: 90, optimiseCoding: false },
    );
    const { segments } = takeApart(flat);
    // A mean as before is 00, the end of a block 1010: four channels are three bytes. Source: ITU-T T.81, K.3, from memory.
    const coded = Buffer.alloc(8192 * 3 * 150, Buffer.from([0b0010_1000, 0b1010_0010, 0b1000_1010]));
    const end = Buffer.from([0xff, MARKERS.end]);
    const file = withSize(putTogether(segments, Buffer.concat([coded, end])), width, height);
    expect(new Set(halved(withSize(file, width, 8)))).toEqual(new Set([128]));
    expect(halved(file)).toBeNull();
  });
});

describe('half of a picture that needs much memory', () => {
  it('leaves the next one as it was', async () => {
    const small = await jpegOf(noise(40, 24, 4), { quality: 90 });
    const before = halved(small);
    const flat = await jpegOf(
      pictureOf(8, 8, 4, () => 127),
      { quality: 90, optimiseCoding: false },
    );
    const coded = Buffer.alloc(1024 * 1024 * 3, Buffer.from([0b0010_1000, 0b1010_0010, 0b1000_1010]));
    const large = withSize(
      putTogether(takeApart(flat).segments, Buffer.concat([coded, Buffer.from([0xff, MARKERS.end])])),
      8192,
      8192,
    );
    const samples = halfJpeg(large, layoutOf(large))!.data;
    expect([samples.length, samples.indexOf(127), samples.lastIndexOf(128)]).toEqual([2 ** 26, -1, 2 ** 26 - 1]);
    expect(halved(small)).toEqual(before);
  });
});
