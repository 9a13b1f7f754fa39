import { readdirSync } from 'node:fs';
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { PDFArray, PDFDocument, PDFName } from '@cantoo/pdf-lib';
import sharp from 'sharp';
import { imposeSheets } from '../../../demo/sheets/impose.ts';
import type { Plan } from '../../../src/plates/index.ts';
import { run } from '../../reading/pdf/outside-tool.ts';

/** Type is drawn bolder at coarser resolutions. */
const PPI = 600;

/** Plates of the sheets of a book in eight bits, made by Ghostscript: `demo_1(Cyan).tif` and so on. */
export async function screenPlates(folder: string, bookPath: string, plan: Plan, ppi = PPI): Promise<string> {
  const sheets = join(folder, 'sheets.pdf');
  const plates = join(folder, 'plates');
  await mkdir(plates);
  await imposeSheets({ bookPath, plan, outPath: sheets });
  const quiet = ['-q', '-dSAFER', '-dBATCH', '-dNOPAUSE'];
  const smooth = ['-dTextAlphaBits=4', '-dGraphicsAlphaBits=4', `-r${ppi}`];
  run('gs', [...quiet, '-sDEVICE=tiffsep', ...smooth, `-sOutputFile=${join(plates, 'demo_%d.tif')}`, sheets]);
  return plates;
}

/** A plate's tones as greys, 0 ink to 255 paper. */
export async function greysOf(path: string) {
  const { data, info } = await sharp(path).toColourspace('b-w').raw().toBuffer({ resolveWithObject: true });
  return { width: info.width, height: info.height, data };
}

async function fewerGreys(path: string) {
  const { width = 0 } = await sharp(path).metadata();
  const fewer = sharp(path).resize({ width: Math.round((width * PDF_PPI) / PPI) });
  const { data, info } = await fewer.toColourspace('b-w').raw().toBuffer({ resolveWithObject: true });
  return { width: info.width, height: info.height, data };
}

/** Writes a plate, moved to the right and down by whole pixels. */
export async function writePlate(
  path: string,
  { width, height, data }: Awaited<ReturnType<typeof greysOf>>,
  [right, down]: readonly [number, number] = [0, 0],
  ppi = PPI,
): Promise<void> {
  const moved = Buffer.alloc(width * height, 255);
  for (let y = down; y < height; y++)
    data.copy(moved, y * width + right, (y - down) * width, (y - down + 1) * width - right);
  await sharp(moved, { raw: { width, height, channels: 1 } })
    .toColourspace('b-w')
    .tiff({ compression: 'lzw', xres: ppi / 25.4, yres: ppi / 25.4 })
    .toFile(path);
}

/** As finely as plates are looked at, so that no time goes into pixels that nobody sees. */
const PDF_PPI = 300;

/** The same plates as one PDF: a page for each ink of each side. */
export async function separatedPdf(plates: string, path: string): Promise<string> {
  const document = await PDFDocument.create();
  for (const side of [1, 2]) {
    const files = readdirSync(plates).filter((name) => name.startsWith(`demo_${side}(`));
    const pages = [];
    for (const name of files) {
      const { width, height, data } = await fewerGreys(join(plates, name));
      const { context } = document;
      const picture = context.flateStream(data, {
        Type: 'XObject',
        Subtype: 'Image',
        Width: width,
        Height: height,
        BitsPerComponent: 8,
        ColorSpace: 'DeviceGray',
      });
      const size = [(width / PDF_PPI) * 72, (height / PDF_PPI) * 72] as const;
      const page = document.addPage([...size]);
      page.node.set(PDFName.of('Resources'), context.obj({ XObject: { Plate: context.register(picture) } }));
      const content = context.stream(`${size[0]} 0 0 ${size[1]} 0 0 cm /Plate Do`);
      page.node.set(PDFName.of('Contents'), context.register(content));
      pages.push({ page, ink: /\((.*)\)/.exec(name)![1]! });
    }
    const group = PDFArray.withContext(document.context);
    for (const { page } of pages) group.push(page.ref);
    for (const { page, ink } of pages) {
      page.node.set(
        PDFName.of('SeparationInfo'),
        document.context.obj({ Pages: group, DeviceColorant: PDFName.of(ink) }),
      );
    }
  }
  await writeFile(path, await document.save());
  return path;
}
