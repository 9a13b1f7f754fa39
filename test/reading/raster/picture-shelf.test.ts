import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import { drawPage, rasterHash, type Book, type PictureShelf } from '../../../src/reading/index.ts';
import { openSample } from './sample-file.ts';
import { photoJpeg } from './sample-pictures.ts';

const PPI = 100;
const [WIDTH, HEIGHT] = [600, 480];

let folder = '';
let shelf: PictureShelf;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'witnessleaf-shelf-'));
  shelf = { folder, ppi: PPI, mostBytes: 10e6 };
});
afterEach(() => rm(folder, { recursive: true, force: true }));

/** A page with one picture in four inks at 300 ppi. */
async function pageWith(decode: readonly number[] | null): Promise<Book> {
  const data = await photoJpeg(WIDTH, HEIGHT, 4);
  return openSample((objects) => {
    const Photo = objects.stream(data, {
      ...{ Type: 'XObject', Subtype: 'Image', Width: WIDTH, Height: HEIGHT, BitsPerComponent: 8 },
      ...{ Filter: 'DCTDecode', ColorSpace: 'DeviceCMYK', ...(decode === null ? {} : { Decode: decode }) },
    });
    const content = 'q 144 0 0 115.2 10.3 8.7 cm /Photo Do Q';
    return [{ media: [0, 0, 170, 140], resources: { XObject: { Photo } }, content }];
  });
}

const drawn = async (book: Book, from: PictureShelf | null, ppi = PPI): Promise<string> =>
  rasterHash((await drawPage({ book, pageNumber: 1, ppi, limits: DEFAULT_LIMITS, shelf: from })).raster);
const places = async (): Promise<readonly string[]> => (await readdir(folder)).sort();

describe('a picture that was put aside', () => {
  it('is drawn the same as one made anew, to the last byte', async () => {
    const book = await pageWith(null);
    const anew = await drawn(book, null);
    expect(await drawn(book, shelf)).toBe(anew);
    expect(await places()).toHaveLength(1);
    expect(await drawn(book, shelf)).toBe(anew);
  });

  it('is taken from the shelf, also for a page drawn at another resolution', async () => {
    const book = await pageWith(null);
    await drawn(book, shelf);
    const [place = ''] = await places();
    const before = await drawn(book, shelf, 80);
    await writeFile(join(folder, place), new Uint8Array(300 * 240 * 3));
    expect(await drawn(book, shelf, 80)).not.toBe(before);
    expect(await places()).toEqual([place]);
  });

  it('is not taken for one whose inks the file turns round', async () => {
    await drawn(await pageWith(null), shelf);
    const turned = await pageWith([1, 0, 1, 0, 1, 0, 1, 0]);
    expect(await drawn(turned, shelf)).toBe(await drawn(turned, null));
    expect(await places()).toHaveLength(2);
  });

  it('is made anew where what lies there was cut short', async () => {
    const book = await pageWith(null);
    const anew = await drawn(book, shelf);
    await writeFile(join(folder, (await places())[0]!), new Uint8Array(9));
    expect(await drawn(book, shelf)).toBe(anew);
  });

  it('waits only while there is room, and a folder that is gone costs nothing but time', async () => {
    const book = await pageWith(null);
    const anew = await drawn(book, { ...shelf, mostBytes: 1000 });
    expect(await places()).toEqual([]);
    expect(await drawn(book, { ...shelf, folder: join(folder, 'gone') })).toBe(anew);
  });
});
