import { createHash } from 'node:crypto';
import { deflateSync } from 'node:zlib';
import { readFileSync } from 'node:fs';
import { PDFRawStream } from '@cantoo/pdf-lib';
import { describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import { drawPage, rasterHash } from '../../../src/reading/index.ts';
import { inkColours } from '../../../src/reading/raster/ink-colours.ts';
import { colourInks } from '../../../src/reading/raster/ink-table.ts';
import { openSample } from './sample-file.ts';
import { photoJpeg } from './sample-pictures.ts';

const SIDE = 40;
const PROFILE = readFileSync(
  new URL('../../../node_modules/pdfjs-dist/iccs/CGATS001Compat-v2-micro.icc', import.meta.url),
);
/** Inks that look like chance but are the same on every run. */
const inks = Uint8Array.from(
  { length: SIDE * SIDE * 4 },
  (_, at) => createHash('sha256').update(String(at)).digest()[0] ?? 0,
);

describe('the screen colours of inks', () => {
  for (const [name, hasProfile] of [
    ['without a profile', false],
    ['with one', true],
  ] as const) {
    it(`are the renderer's own to 3 levels, ${name}`, async () => {
      const book = await openSample((objects) => {
        const profile = objects.stream(PROFILE, { N: 4 });
        const image = objects.stream(deflateSync(inks), {
          ...{ Type: 'XObject', Subtype: 'Image', Width: SIDE, Height: SIDE, BitsPerComponent: 8 },
          ...{ Filter: 'FlateDecode', ColorSpace: hasProfile ? ['ICCBased', profile] : 'DeviceCMYK' },
        });
        // A picture so small is drawn by the renderer as it is; each sample gets 15 x 15 pixels.
        const content = `${SIDE} 0 0 ${SIDE} 0 0 cm /Inks Do`;
        return [{ media: [0, 0, SIDE, SIDE], resources: { XObject: { Inks: image } }, content }];
      });
      const { raster } = await drawPage({ book, pageNumber: 1, ppi: 72 * 15, limits: DEFAULT_LIMITS });
      const profile = book.context
        .enumerateIndirectObjects()
        .map(([, object]) => object)
        .find((object) => object instanceof PDFRawStream && object.dict.toString().includes('/N 4'));
      const table = await inkColours(book.context, hasProfile && profile instanceof PDFRawStream ? profile : null);
      const rgb = colourInks(inks, table);
      const off = [...rgb].map((level, at) => {
        const [sample, channel] = [Math.floor(at / 3), at % 3];
        const [x, y] = [(sample % SIDE) * 15 + 7, Math.floor(sample / SIDE) * 15 + 7];
        return Math.abs(level - (raster.rgb[(y * raster.width + x) * 3 + channel] ?? NaN));
      });
      const [most, mean] = [Math.max(...off), off.reduce((sum, levels) => sum + levels, 0) / off.length];
      expect({ near: most <= 3 && mean < 0.3, most, mean }).toEqual({ near: true, most, mean });
    });
  }

  it('are those of the print condition where the picture has no profile of its own', async () => {
    const data = await photoJpeg(300, 200, 4);
    const other = Buffer.from(PROFILE);
    for (let at = 2000; at < other.length; at++) other[at] = Math.round((other[at] ?? 0) * 0.9);
    const hashes = [];
    for (const condition of [null, other, other]) {
      const book = await openSample((objects) => {
        if (condition !== null) {
          const DestOutputProfile = objects.stream(condition, { N: 4 });
          objects.inCatalog('OutputIntents', [{ Type: 'OutputIntent', S: 'GTS_PDFX', DestOutputProfile }]);
        }
        const image = objects.stream(data, {
          ...{ Type: 'XObject', Subtype: 'Image', Width: 300, Height: 200, BitsPerComponent: 8 },
          ...{ Filter: 'DCTDecode', ColorSpace: 'DeviceCMYK', Decode: [1, 0, 1, 0, 1, 0, 1, 0] },
        });
        const content = '108 0 0 72 0 0 cm /Photo Do';
        return [{ media: [0, 0, 108, 72], resources: { XObject: { Photo: image } }, content }];
      });
      hashes.push(rasterHash((await drawPage({ book, pageNumber: 1, ppi: 100, limits: DEFAULT_LIMITS })).raster));
    }
    expect([hashes[0] === hashes[1], hashes[1] === hashes[2]]).toEqual([false, true]);
  });
});
