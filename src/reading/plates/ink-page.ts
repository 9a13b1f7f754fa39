import { open, writeFile } from 'node:fs/promises';
import { promisify } from 'node:util';
import { deflate } from 'node:zlib';
import { PDFContext, PDFName, PDFRawStream } from '@cantoo/pdf-lib';
import type { PDFObject, PDFRef } from '@cantoo/pdf-lib';
import type { Box, Mm, ProcessInk } from '../../model/index.ts';
import { MM_PER_INCH, PROCESS_INKS, PT_PER_INCH, Refusal } from '../../model/index.ts';
import { writeFile as fileOf } from '../raster/write-file.ts';

/** Ink over a plate, put aside on disk: a byte a pixel, 0 none to 255 full, row by row from the top left. */
export interface TonesOnDisk {
  readonly path: string;
  readonly width: number;
  readonly height: number;
}

/** A part of a sheet's side to be written as a page of its own. */
export interface InkPage {
  /** What there is of each ink; an ink that is absent prints nothing. */
  readonly inks: Partial<
    Readonly<Record<ProcessInk, TonesOnDisk & { readonly shiftXpx: number; readonly shiftYpx: number }>>
  >;
  /** The side. */
  readonly sheet: { readonly width: Mm; readonly height: Mm };
  /** Where the page lies on it, in mm from its top left corner. */
  readonly box: Box;
  /** How the page is turned there, clockwise. */
  readonly turnDeg: 0 | 90 | 180 | 270;
}

interface Part {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** Around the box, so that its edge is drawn from whole pixels. */
const RIM_PX = 2;
const PT_PER_MM = PT_PER_INCH / MM_PER_INCH;
const deflated = promisify(deflate);

/**
 * Writes a part of a sheet as a PDF of one page, upright: one picture of the four inks.
 *
 * @throws {Refusal} unavailable: tones that were put aside cannot be read back
 */
export async function writeInkPage({ inks, sheet, box, turnDeg }: InkPage, path: string): Promise<void> {
  const [first] = Object.values(inks);
  if (first === undefined) throw new Refusal('unavailable', { what: 'a side of a sheet', reason: 'it has no ink' });
  const pxX = first.width / sheet.width;
  const pxY = first.height / sheet.height;
  const left = Math.max(0, Math.floor(box.x * pxX) - RIM_PX);
  const top = Math.max(0, Math.floor(box.y * pxY) - RIM_PX);
  const part: Part = {
    left,
    top,
    width: Math.max(1, Math.min(first.width, Math.ceil((box.x + box.width) * pxX) + RIM_PX) - left),
    height: Math.max(1, Math.min(first.height, Math.ceil((box.y + box.height) * pxY) + RIM_PX) - top),
  };
  const lying = turnDeg === 90 || turnDeg === 270;
  const picture = {
    width: lying ? part.height : part.width,
    height: lying ? part.width : part.height,
    samples: new Uint8Array(part.width * part.height * PROCESS_INKS.length),
  };
  for (const [channel, ink] of PROCESS_INKS.entries()) {
    const tones = inks[ink];
    if (tones !== undefined) layIn(await readPart(tones, part), part, turnDeg, picture.samples, channel);
  }
  const seen = { x: left / pxX, y: top / pxY, width: part.width / pxX, height: part.height / pxY };
  const { page, place } = upright(box, seen, turnDeg);
  await writeFile(path, await pdfOf(page, place, picture));
}

/** Outside the sheet there is no ink. */
async function readPart(
  { path, width, height, shiftXpx, shiftYpx }: NonNullable<InkPage['inks'][ProcessInk]>,
  part: Part,
): Promise<Uint8Array> {
  const out = new Uint8Array(part.width * part.height);
  const row = Buffer.alloc(width);
  const file = await open(path);
  try {
    for (let y = 0; y < part.height; y++) {
      const fromY = part.top + y + shiftYpx;
      if (fromY < 0 || fromY >= height) continue;
      const { bytesRead } = await file.read(row, 0, width, fromY * width);
      if (bytesRead < width)
        throw new Refusal('unavailable', { what: 'a plate', reason: 'its tones are gone from the disk' });
      const fromX = part.left + shiftXpx;
      const start = Math.max(0, fromX);
      const end = Math.min(width, fromX + part.width);
      if (end > start) out.set(row.subarray(start, end), y * part.width + (start - fromX));
    }
  } finally {
    await file.close();
  }
  return out;
}

/** One ink among the samples of four, each row turned upright. */
function layIn(
  tones: Uint8Array,
  { width, height }: Part,
  turnDeg: InkPage['turnDeg'],
  samples: Uint8Array,
  channel: number,
): void {
  const inks = PROCESS_INKS.length;
  // where the part's first pixel comes to lie, and how far apart its neighbours across and down do
  const [start, across, down] = {
    0: [0, 1, width],
    90: [(width - 1) * height, -height, 1],
    180: [width * height - 1, -1, -width],
    270: [height - 1, height, -1],
  }[turnDeg] as [number, number, number];
  for (let y = 0, from = 0; y < height; y++) {
    let to = (start + y * down) * inks + channel;
    for (let x = 0; x < width; x++, from++, to += across * inks) samples[to] = tones[from]!;
  }
}

/** The page's size and where on it the picture lies, in mm from its top left corner. */
function upright(
  box: Box,
  seen: Box,
  turnDeg: InkPage['turnDeg'],
): { readonly page: Pick<Box, 'width' | 'height'>; readonly place: Box } {
  const [left, top] = [seen.x - box.x, seen.y - box.y];
  const [right, bottom] = [box.width - left - seen.width, box.height - top - seen.height];
  const [x, y] = { 0: [left, top], 90: [top, right], 180: [right, bottom], 270: [bottom, left] }[turnDeg] as [Mm, Mm];
  const lying = turnDeg === 90 || turnDeg === 270;
  const turned = ({ width, height }: Pick<Box, 'width' | 'height'>) =>
    lying ? { width: height, height: width } : { width, height };
  return { page: turned(box), place: { x, y, ...turned(seen) } };
}

async function pdfOf(
  page: Pick<Box, 'width' | 'height'>,
  place: Box,
  { width, height, samples }: { readonly width: number; readonly height: number; readonly samples: Uint8Array },
): Promise<Uint8Array> {
  const context = PDFContext.create();
  const objects: [PDFRef, PDFObject][] = [];
  const add = (object: PDFObject): PDFRef => {
    const ref = context.nextRef();
    objects.push([ref, object]);
    return ref;
  };
  const picture = PDFRawStream.of(
    context.obj({
      Type: 'XObject',
      Subtype: 'Image',
      Width: width,
      Height: height,
      BitsPerComponent: 8,
      ColorSpace: 'DeviceCMYK',
      Filter: 'FlateDecode',
    }),
    // the fastest level: the page is read once and thrown away
    await deflated(samples, { level: 1 }),
  );
  const pt = (mm: Mm): number => mm * PT_PER_MM;
  const matrix = [place.width, 0, 0, place.height, place.x, page.height - place.y - place.height].map(pt);
  const content = Buffer.from(`q ${matrix.map((value) => value.toFixed(5)).join(' ')} cm /Side Do Q`, 'latin1');
  const box = [0, 0, pt(page.width), pt(page.height)];
  const dict = context.obj({
    Type: 'Page',
    MediaBox: box,
    TrimBox: box,
    Resources: { XObject: { Side: add(picture) } },
    Contents: add(PDFRawStream.of(context.obj({}), content)),
  });
  const pageRef = add(dict);
  const pages = add(context.obj({ Type: 'Pages', Kids: [pageRef], Count: 1 }));
  dict.set(PDFName.of('Parent'), pages);
  const root = add(context.obj({ Type: 'Catalog', Pages: pages }));
  return fileOf(objects, root);
}
