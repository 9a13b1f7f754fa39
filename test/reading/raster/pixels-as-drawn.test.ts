import { execFileSync } from 'node:child_process';
import { deflateSync } from 'node:zlib';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';
import { describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import { drawPage, openBook } from '../../../src/reading/index.ts';
import { hasTool } from '../pdf/outside-tool.ts';
import { sampleFile } from './sample-file.ts';
import type { SampleObjects } from './sample-file.ts';

const PPI = 100;

/** Two programs resample grain differently; a picture without grain has to come out alike. */
const [WIDTH, HEIGHT] = [400, 300];
const PICTURE = Uint8Array.from({ length: WIDTH * HEIGHT * 3 }, (_, at) => {
  const [x, y] = [Math.floor(at / 3) % WIDTH, Math.floor(at / 3 / WIDTH)];
  return 128 + 100 * [Math.sin(x / 40), Math.cos(y / 30), Math.sin((x + y) / 60)][at % 3]!;
});

/**
 * A picture in RGB, a tint and a line on a page of 432 x 288 points.
 *
 * @param tintPt  how high the tint is; it is 90 points wide
 */
function page(tintPt: number): Promise<string> {
  return sampleFile((objects: SampleObjects) => [
    {
      media: [0, 0, 432, 288] as const,
      resources: {
        XObject: {
          Rgb: objects.stream(deflateSync(PICTURE), {
            ...{ Type: 'XObject', Subtype: 'Image', Width: WIDTH, Height: HEIGHT, BitsPerComponent: 8 },
            ...{ Filter: 'FlateDecode', ColorSpace: 'DeviceRGB' },
          }),
        },
      },
      content: `
        q 288 0 0 216 18 36 cm /Rgb Do Q
        0.2 0.4 0.1 rg 324 162 90 ${tintPt} re f 2 w 0.8 0.1 0.1 RG 324 36 m 400 140 l 410 20 l s`,
    },
  ]);
}

async function drawnHere(path: string) {
  const { raster } = await drawPage({
    book: await openBook(path, DEFAULT_LIMITS),
    pageNumber: 1,
    ppi: PPI,
    limits: DEFAULT_LIMITS,
  });
  const { width, height, rgb } = raster;
  const data = new Uint8Array(width * height * 4).fill(255);
  for (let at = 0; at < width * height; at++) data.set(rgb.subarray(3 * at, 3 * at + 3), 4 * at);
  return { width, height, data };
}

function drawnByPoppler(path: string): PNG {
  return PNG.sync.read(execFileSync('pdftoppm', ['-r', String(PPI), '-png', path], { maxBuffer: 2 ** 28 }));
}

/** Pixels of a hundred that pixelmatch holds apart, edges that two programs smooth differently left out. */
function percentApart(ours: Awaited<ReturnType<typeof drawnHere>>, theirs: PNG): number {
  const { width, height } = ours;
  const apart = pixelmatch(ours.data, theirs.data, undefined, width, height, { threshold: 0.1 });
  return (100 * apart) / (width * height);
}

describe.skipIf(!hasTool('pdftoppm', 'poppler-utils'))(
  'pixelmatch, asked about a page drawn here and by poppler',
  () => {
    it('sees the same page', async () => {
      const path = await page(90);
      const [ours, theirs] = [await drawnHere(path), drawnByPoppler(path)];
      expect([ours.width, ours.height]).toEqual([theirs.width, theirs.height]);
      expect(percentApart(ours, theirs)).toBeLessThan(0.5);
    });

    it('sees a tint that is ten points lower, which is seven thousandths of the page', async () => {
      const [ours, theirs] = [await drawnHere(await page(80)), drawnByPoppler(await page(90))];
      expect(percentApart(ours, theirs)).toBeGreaterThan(0.5);
    });
  },
);
