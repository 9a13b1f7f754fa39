import { copyFile, mkdtemp, rename, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import type { Mm } from '../../../src/model/index.ts';
import type { Screening } from '../material/screen-plates.ts';
import { screenPlates } from '../material/screen-plates.ts';

type Ink = 'Cyan' | 'Magenta' | 'Yellow' | 'Black';

/** Something that goes wrong with plates after screening. Sides count from 1, as pages of the sheets. */
export type PlateFault = { readonly side: number; readonly ink: Ink } & (
  | { readonly kind: 'missing' }
  /** A further file for the ink. */
  | { readonly kind: 'doubled' }
  /** Its file is that of another ink of its side. */
  | { readonly kind: 'same-file'; readonly of: Ink }
  /** Its file and that of another side stand for each other; of the same ink. */
  | { readonly kind: 'other-side'; readonly from: number }
  | { readonly kind: 'exchanged'; readonly with: Ink }
  | { readonly kind: 'off'; readonly shiftXmm: Mm; readonly shiftYmm: Mm }
  | { readonly kind: 'empty' }
  | { readonly kind: 'coarse'; readonly rulingLpi: number }
);

/** Plants a fault in a folder of plates. */
export async function plantPlateFault(
  folder: string,
  fault: PlateFault,
  sheets: string,
  screening: Screening,
): Promise<void> {
  const plate = (side: number, ink: Ink): string => join(folder, `sheet-${side}(${ink}).tif`);
  const own = plate(fault.side, fault.ink);
  switch (fault.kind) {
    case 'missing':
      return rm(own);
    case 'doubled':
      return copyFile(own, join(folder, `sheet-${fault.side}_${fault.ink}.tif`));
    case 'same-file':
      return copyFile(plate(fault.side, fault.of), own);
    case 'other-side':
      return exchange(own, plate(fault.from, fault.ink));
    case 'exchanged':
      return exchange(own, plate(fault.side, fault.with));
    case 'empty':
      return emptied(own);
    case 'off':
    case 'coarse': {
      const again = await mkdtemp(join(tmpdir(), 'plates-'));
      if (fault.kind === 'coarse') await screenPlates(sheets, again, { ...screening, rulingLpi: fault.rulingLpi });
      else await screenPlates(sheets, again, screening, { xMm: fault.shiftXmm, yMm: fault.shiftYmm });
      await copyFile(join(again, `sheet-${fault.side}(${fault.ink}).tif`), own);
      return rm(again, { recursive: true });
    }
  }
}

async function exchange(one: string, other: string): Promise<void> {
  const aside = `${one}.aside`;
  await rename(one, aside);
  await rename(other, one);
  await rename(aside, other);
}

/** Paper of the same size, as libvips writes it. */
async function emptied(path: string): Promise<void> {
  const { width, height, density } = await sharp(path, { limitInputPixels: false }).metadata();
  const paper = { width, height, channels: 3 as const, background: 'white' };
  const perMm = density! / 25.4;
  const file = await sharp({ create: paper, limitInputPixels: false })
    .toColourspace('b-w')
    .tiff({ compression: 'ccittfax4', bitdepth: 1, xres: perMm, yres: perMm })
    .toBuffer();
  await writeFile(path, file);
}
