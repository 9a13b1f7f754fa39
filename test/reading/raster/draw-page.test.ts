import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { deflateSync } from 'node:zlib';
import sharp from 'sharp';
import type { PDFRef } from '@cantoo/pdf-lib';
import { describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS, type PageRaster } from '../../../src/model/index.ts';
import { drawPage, openBook, rasterHash, type Book } from '../../../src/reading/index.ts';
import { hasTool } from '../pdf/outside-tool.ts';
import { refusalOf } from '../refused.ts';
import { rasterDifference } from './raster-difference.ts';
import { openSample, sampleFile, type SampleObjects } from './sample-file.ts';
import { photo, photoJpeg } from './sample-pictures.ts';

const PPI = 100;

async function draw(book: Book, pageNumber = 1): Promise<PageRaster> {
  return (await drawPage({ book, pageNumber, ppi: PPI, limits: DEFAULT_LIMITS })).raster;
}

/** The page as poppler draws it, cut to its CropBox. */
async function drawnByPoppler(path: string, unit = 1): Promise<PageRaster> {
  // It does not know UserUnit.
  const png = execFileSync('pdftoppm', ['-r', String(PPI * unit), '-cropbox', '-png', '-f', '1', '-l', '1', path], {
    maxBuffer: 2 ** 28,
  });
  const { data, info } = await sharp(png).removeAlpha().raw().toBuffer({ resolveWithObject: true });
  return { width: info.width, height: info.height, ppi: PPI, rgb: data };
}

/** Text, vectors and pictures in grey, RGB and CMYK; its corner is not at zero. 432 x 288 pt. */
async function mixedPage(entries: Readonly<Record<string, unknown>>) {
  const [grey, rgb, cmyk] = await Promise.all([photoJpeg(400, 300, 1), photoJpeg(400, 300, 3), photoJpeg(400, 300, 4)]);
  const image = (objects: SampleObjects, data: Buffer, ColorSpace: string, more = {}) =>
    objects.stream(data, {
      ...{ Type: 'XObject', Subtype: 'Image', Width: 400, Height: 300, BitsPerComponent: 8 },
      ...{ Filter: 'DCTDecode', ColorSpace, ...more },
    });
  return (objects: SampleObjects) => [
    {
      media: [100, -50, 532, 238] as const,
      entries,
      resources: {
        Font: { F: objects.object({ Type: 'Font', Subtype: 'Type1', BaseFont: 'Times-Roman' }) },
        XObject: {
          Grey: image(objects, grey, 'DeviceGray'),
          Rgb: image(objects, rgb, 'DeviceRGB'),
          Cmyk: image(objects, cmyk, 'DeviceCMYK', { Decode: [1, 0, 1, 0, 1, 0, 1, 0] }),
        },
      },
      content: `
        q 120 0 0 90 115.3 130.6 cm /Grey Do Q q 120 0 0 90 250.7 130.2 cm /Rgb Do Q
        q 104 60 -45 78 440 100 cm /Cmyk Do Q
        0.2 0.4 0.1 rg 120 -30 150 40 re f 2 w 0.8 0.1 0.1 RG 120 30 m 300 100 l 350 20 l s
        0 0 0 1 k BT /F 14 Tf 290 -20 Td (Set in Times, quoted from the author) Tj ET`,
    },
  ];
}

describe.skipIf(!hasTool('pdftoppm', 'poppler-utils'))('a page drawn here and by poppler looks the same', () => {
  for (const [name, entries, unit] of [
    ['as it lies', {}, 1],
    ['turned by 90 degrees', { Rotate: 90 }, 1],
    ['turned by 270 degrees', { Rotate: 270 }, 1],
    ['at twice the unit', { UserUnit: 2 }, 2],
  ] as const) {
    it(name, async () => {
      const path = await sampleFile(await mixedPage(entries));
      const [ours, theirs] = [await draw(await openBook(path, DEFAULT_LIMITS)), await drawnByPoppler(path, unit)];
      const { mean } = rasterDifference(ours, theirs);
      expect({ alike: mean < 2.5, mean }).toEqual({ alike: true, mean });
    });
  }

  it('cut to its trim', async () => {
    const trim = [130, -20, 500, 200];
    const trimmed = await sampleFile(await mixedPage({ TrimBox: trim }));
    const cropped = await sampleFile(await mixedPage({ CropBox: trim }));
    const { mean } = rasterDifference(
      await draw(await openBook(trimmed, DEFAULT_LIMITS)),
      await drawnByPoppler(cropped),
    );
    expect({ alike: mean < 2.5, mean }).toEqual({ alike: true, mean });
  });
});

describe('the raster', () => {
  it('is the trimmed page: white paper, its size in pixels rounded', async () => {
    const book = await openSample(() => [
      { media: [0, 0, 300, 200], entries: { TrimBox: [10, 20, 82, 56] }, content: '1 0 0 rg 10 38 36 18 re f' },
    ]);
    const raster = await draw(book);
    const at = (x: number, y: number) => [...raster.rgb.subarray((y * 100 + x) * 3, (y * 100 + x) * 3 + 3)];
    expect([raster.width, raster.height, raster.ppi]).toEqual([100, 50, 100]);
    expect([at(0, 0), at(48, 23), at(51, 24), at(49, 26), at(99, 49)]).toEqual([
      [255, 0, 0],
      [255, 0, 0],
      [255, 255, 255],
      [255, 255, 255],
      [255, 255, 255],
    ]);
  });

  it('has the same bytes on every run', async () => {
    const path = await sampleFile(await mixedPage({}));
    const hashes = [];
    for (let run = 0; run < 3; run++) hashes.push(rasterHash(await draw(await openBook(path, DEFAULT_LIMITS))));
    expect(new Set(hashes).size).toBe(1);
  });

  it('shows a picture where it is placed, to a fiftieth of a pixel', async () => {
    // Waves of 36 samples at 300 ppi: 12 pixels of the raster each.
    const data = Uint8Array.from(
      { length: 600 * 40 },
      (_, at) => 128 + 100 * Math.cos(((at % 600) * 2 * Math.PI) / 36),
    );
    const found: number[] = [];
    for (const shiftPx of [0, 0.25, 0.5, 0.75]) {
      const book = await openSample((objects) => {
        const image = objects.stream(deflateSync(data), {
          ...{ Type: 'XObject', Subtype: 'Image', Width: 600, Height: 40, BitsPerComponent: 8 },
          ...{ Filter: 'FlateDecode', ColorSpace: 'DeviceGray' },
        });
        const content = `q 144 0 0 144 ${((20 + shiftPx) * 72) / PPI} 21.6 cm /Waves Do Q`;
        return [{ media: [0, 0, 288, 216], resources: { XObject: { Waves: image } }, content }];
      });
      found.push(placeOfWaves(await draw(book), 12));
    }
    expect(found.map((place) => (place - (found[0] ?? NaN)).toFixed(2))).toEqual(['0.00', '0.25', '0.50', '0.75']);
  });

  it('shows no seams where an exporter cut a picture into strips', async () => {
    const [width, height, strips] = [900, 720, 9];
    const { data } = await photo(width, height, 3);
    const image = (objects: SampleObjects, samples: Uint8Array, rows: number) =>
      objects.stream(deflateSync(samples, { level: 1 }), {
        ...{ Type: 'XObject', Subtype: 'Image', Width: width, Height: rows, BitsPerComponent: 8 },
        ...{ Filter: 'FlateDecode', ColorSpace: 'DeviceRGB' },
      });
    const media = [0, 0, 240, 190] as const;
    const whole = await openSample((objects) => {
      const content = 'q 216 0 0 172.8 10.3 8.7 cm /Photo Do Q';
      return [{ media, resources: { XObject: { Photo: image(objects, data, height) } }, content }];
    });
    const cut = await openSample((objects) => {
      const rows = height / strips;
      const pieces = Array.from({ length: strips }, (_, at): [string, PDFRef] => [
        `Strip${at}`,
        image(objects, data.subarray(at * rows * width * 3, (at + 1) * rows * width * 3), rows),
      ]);
      const content = pieces.map(
        ([name], at) =>
          `q 216 0 0 ${172.8 / strips} 10.3 ${8.7 + (172.8 * (strips - 1 - at)) / strips} cm /${name} Do Q`,
      );
      return [{ media, resources: { XObject: Object.fromEntries(pieces) }, content: content.join(' ') }];
    });
    const difference = rasterDifference(await draw(whole), await draw(cut));
    const alike = difference.mean < 0.8 && difference.most < 25;
    expect({ alike, ...difference }).toEqual({ alike: true, ...difference });
  });

  it('shows pictures whatever names a file gives them', async () => {
    const names = ['P', 'Parent', 'Metadata', 'Kids'];
    const book = await openSample((objects) => {
      const black = objects.stream(deflateSync(Buffer.alloc(64)), {
        ...{ Type: 'XObject', Subtype: 'Image', Width: 8, Height: 8, BitsPerComponent: 8 },
        ...{ Filter: 'FlateDecode', ColorSpace: 'DeviceGray' },
      });
      const content = names.map((name, at) => `q 18 0 0 18 ${18 * at} 0 cm /${name} Do Q`).join(' ');
      return [
        { media: [0, 0, 72, 18], resources: { XObject: Object.fromEntries(names.map((n) => [n, black])) }, content },
      ];
    });
    const { rgb } = await draw(book);
    expect([...rgb].every((level) => level === 0)).toBe(true);
  });

  it('refuses a raster of more pixels than can be afforded, naming the page', async () => {
    const book = await openSample(() => [{ media: [0, 0, 5000, 5000], content: '' }]);
    expect(await refusalOf(drawPage({ book, pageNumber: 1, ppi: 600, limits: DEFAULT_LIMITS }))).toEqual({
      kind: 'too-large',
      ...{ what: 'the page as a raster', limit: 100e6, found: 41667 ** 2, unit: 'pixels', page: 1 },
    });
  });
});

/** Where waves along x stand, in pixels from the left: the phase of their Fourier coefficient over ten whole waves. */
function placeOfWaves({ width, height, rgb }: PageRaster, period: number): number {
  const from = 60;
  let [real, imaginary] = [0, 0];
  for (let x = from; x < from + 10 * period; x++) {
    const level = rgb[((height >> 1) * width + x) * 3] ?? 0;
    real += level * Math.cos((2 * Math.PI * x) / period);
    imaginary += level * Math.sin((2 * Math.PI * x) / period);
  }
  return (Math.atan2(imaginary, real) * period) / (2 * Math.PI);
}

describe('colours', () => {
  const profile = (name: string) =>
    readFileSync(new URL(`../../../node_modules/pdfjs-dist/iccs/${name}`, import.meta.url));

  it('change with the profile of a picture', async () => {
    const data = await photoJpeg(300, 200, 4);
    const icc = profile('CGATS001Compat-v2-micro.icc');
    // The same profile with its tables for "to paper and back" cut by a tenth of their levels.
    const other = Buffer.from(icc);
    for (let at = 2000; at < other.length; at++) other[at] = Math.round((other[at] ?? 0) * 0.9);
    const withProfile = (bytes: Buffer) =>
      openSample((objects) => {
        const image = objects.stream(data, {
          ...{ Type: 'XObject', Subtype: 'Image', Width: 300, Height: 200, BitsPerComponent: 8 },
          ...{ Filter: 'DCTDecode', ColorSpace: ['ICCBased', objects.stream(bytes, { N: 4 })] },
        });
        const content = 'q 108 0 0 72 0 0 cm /Photo Do Q';
        return [{ media: [0, 0, 108, 72], resources: { XObject: { Photo: image } }, content }];
      });
    const [one, same, changed] = [await withProfile(icc), await withProfile(icc), await withProfile(other)];
    const hashes = [rasterHash(await draw(one)), rasterHash(await draw(same)), rasterHash(await draw(changed))];
    expect([hashes[0] === hashes[1], hashes[0] === hashes[2]]).toEqual([true, false]);
  });
});

describe('what is drawn', () => {
  it('is what prints: layers that are off and annotations that do not print are left out', async () => {
    const book = await openSample((objects) => {
      const [shown, hidden] = [1, 2].map((n) => objects.object({ Type: 'OCG', Name: `Layer ${n}` }));
      objects.inCatalog('OCProperties', { OCGs: [shown, hidden], D: { OFF: [hidden] } });
      const square = (colour: string) =>
        objects.stream(`${colour} rg 0 0 10 10 re f`, { Type: 'XObject', Subtype: 'Form', BBox: [0, 0, 10, 10] });
      const annotation = (F: number, colour: string, x: number) =>
        objects.object({ Type: 'Annot', Subtype: 'Stamp', F, Rect: [x, 40, x + 20, 60], AP: { N: square(colour) } });
      return [
        {
          media: [0, 0, 72, 72],
          resources: { Properties: { On: shown, Off: hidden } },
          entries: { Annots: [annotation(4, '0 0 1', 0), annotation(0, '0 1 0', 24), annotation(6, '0 1 0', 48)] },
          content: '/OC /On BDC 1 0 0 rg 0 0 20 20 re f EMC /OC /Off BDC 0 1 0 rg 24 0 20 20 re f EMC',
        },
      ];
    });
    const raster = await draw(book);
    const at = (x: number, y: number) => [...raster.rgb.subarray((y * 100 + x) * 3, (y * 100 + x) * 3 + 3)].join();
    const white = '255,255,255';
    expect({
      shownLayer: at(14, 86),
      hiddenLayer: at(47, 86),
      printed: at(14, 30),
      onScreenOnly: at(47, 30),
      hidden: at(80, 30),
    }).toEqual({ shownLayer: '255,0,0', hiddenLayer: white, printed: '0,0,255', onScreenOnly: white, hidden: white });
  });
});
