/** One reading of a plate, to be measured from outside: `tones` as a check does it, `decode` as libvips does it alone. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { TONES_PPI } from '../../src/archive/sheets/separations/find-plates.ts';
import { LOOK_PPI } from '../../src/archive/sheets/separations/read-plates.ts';
import { readPlate } from '../../src/archive/sheets/separations/see-plates.ts';
import { DEFAULT_LIMITS } from '../../src/model/index.ts';
import { readPlateHeader } from '../../src/reading/index.ts';

const [how, path, scratch] = process.argv.slice(2) as [string, string, string];
const header = await readPlateHeader(path, DEFAULT_LIMITS);
if ('composite' in header) throw new Error('a plate of one ink is wanted');
const { pixelWidth, pixelHeight, ppi } = header;
if (how === 'decode') {
  // the last row of a file that is read in order: everything above it is decoded and thrown away
  const last = { left: 0, top: pixelHeight - 1, width: pixelWidth, height: 1 };
  const row = await sharp(path, { limitInputPixels: false, unlimited: true, sequentialRead: true })
    .extract(last)
    .toColourspace('b-w')
    .raw()
    .toBuffer();
  if (row.length !== pixelWidth) throw new Error(`${row.length} pixels read`);
} else {
  mkdirSync(scratch, { recursive: true });
  const times = Math.max(1, Math.floor(ppi.x / TONES_PPI + 0.001));
  const ofLook = (pixels: number): number => Math.round((pixels / ppi.x) * LOOK_PPI);
  const seen = await readPlate(
    {
      do: 'plate',
      path,
      name: 'the plate',
      page: null,
      header,
      limits: DEFAULT_LIMITS,
      tones: {
        path: join(scratch, 'plate.tones'),
        width: Math.round(pixelWidth / times),
        height: Math.round(pixelHeight / times),
      },
      look: { path: join(scratch, 'plate.look'), width: ofLook(pixelWidth), height: ofLook(pixelHeight) },
    },
    () => Promise.reject(new Error('there is no book')),
  );
  if (seen.coveragePercent <= 0) throw new Error('the plate is empty');
  console.log(JSON.stringify(seen));
}
