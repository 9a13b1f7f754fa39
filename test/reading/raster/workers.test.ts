import { describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import { openBook, readPage } from '../../../src/reading/index.ts';
import { startPool } from '../../../src/reading/pool/index.ts';
import { sampleFile } from './sample-file.ts';
import { photoJpeg } from './sample-pictures.ts';

describe('a page read in a worker', () => {
  it('has the same raster in every worker, however many there are, and in the process itself', async () => {
    const data = await photoJpeg(600, 400, 4);
    const path = await sampleFile((objects) =>
      [0, 1, 2, 3].map((at) => ({
        media: [0, 0, 216, 144] as const,
        resources: {
          Font: { F: objects.object({ Type: 'Font', Subtype: 'Type1', BaseFont: 'Times-Roman' }) },
          XObject: {
            Photo: objects.stream(data, {
              ...{ Type: 'XObject', Subtype: 'Image', Width: 600, Height: 400, BitsPerComponent: 8 },
              ...{ Filter: 'DCTDecode', ColorSpace: 'DeviceCMYK', Decode: [1, 0, 1, 0, 1, 0, 1, 0] },
            }),
          },
        },
        content: `q 200 0 0 133 ${at}.3 5.7 cm /Photo Do Q BT /F 12 Tf 20 20 Td (Page ${at + 1}) Tj ET`,
      })),
    );
    const book = await openBook(path, DEFAULT_LIMITS);
    const inProcess: string[] = [];
    for (const pageNumber of [1, 2, 3, 4]) {
      const { facts } = await readPage({ book, pageNumber, ppi: 100, limits: DEFAULT_LIMITS });
      inProcess.push(facts.rasterHash);
    }
    for (const size of [1, 2]) {
      const module = new URL('./worker-for-tests.ts', import.meta.url);
      const pool = startPool({ module, size, workerMb: 1000, recycleAfter: 50 });
      try {
        const jobs = [1, 2, 3, 4].map((pageNumber) => pool.run({ path, pageNumber }, { timeoutMs: 50_000 }));
        expect(await Promise.all(jobs)).toEqual(inProcess.map((hash) => [hash, hash]));
      } finally {
        await pool.close();
      }
    }
    expect(new Set(inProcess).size).toBe(4);
  });
});
