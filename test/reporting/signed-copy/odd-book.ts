import type { PDFArray } from '@cantoo/pdf-lib';
import { PDFDocument, PDFName, PDFNumber, rgb, StandardFonts } from '@cantoo/pdf-lib';

type Numbers = readonly [number, number, number, number];

/** A page's boxes as its dictionary has them: lower left and upper right corner in its own units. */
export interface OddPage {
  readonly name: string;
  readonly media: Numbers;
  readonly crop?: Numbers;
  readonly bleed?: Numbers;
  readonly trim?: Numbers;
  readonly rotate?: number;
  readonly userUnit?: number;
}

/** Pages that a stamp could go wrong on, each for a reason of its own. */
export const ODD_PAGES: readonly OddPage[] = [
  { name: 'bleed and trim', media: [0, 0, 420, 520], bleed: [20, 20, 400, 500], trim: [28.5, 28.5, 391.5, 491.5] },
  { name: 'no trim: the sheet is the page', media: [0, 0, 360, 240] },
  { name: 'corners far from zero', media: [-100.5, 700.25, 300.25, 1100.75], trim: [-80, 720, 280, 1080] },
  { name: 'turned to the right', media: [0, 0, 400, 300], trim: [17, 23, 370, 280], rotate: 90 },
  { name: 'upside down', media: [10, 20, 410, 320], trim: [27, 43, 380, 300], rotate: 180 },
  { name: 'turned to the left', media: [0, 0, 400, 300], trim: [17, 23, 370, 280], rotate: 270 },
  { name: 'turned twice round and back', media: [0, 0, 400, 300], trim: [17, 23, 370, 280], rotate: -450 },
  { name: 'in units of two points', media: [0, 0, 200, 150], trim: [10, 10, 190, 140], userUnit: 2, rotate: 90 },
  { name: 'cropped, with more behind', media: [0, 0, 500, 500], crop: [100, 100, 400, 380] },
  {
    name: 'cropped within its bleed',
    media: [0, 0, 500, 500],
    crop: [50, 60, 430, 420],
    bleed: [40, 40, 440, 440],
    trim: [50, 60, 430, 420],
  },
  { name: 'narrow as a ribbon', media: [0, 0, 90, 400] },
];

/** What the pages are painted with, far beyond their edges: so nothing that moves, hides or comes out goes unseen. */
const GROUND = rgb(0.2, 0.55, 0.45);

/** A book of odd pages. With `packed` its objects lie in object streams and its cross-reference is a stream. */
export async function oddBook(pages: readonly OddPage[] = ODD_PAGES, packed = false): Promise<Uint8Array> {
  const book = await PDFDocument.create({ updateMetadata: false });
  const font = await book.embedFont(StandardFonts.Helvetica);
  pages.forEach(({ name, media, rotate, userUnit, ...boxes }, index) => {
    const page = book.addPage();
    const own = (numbers: Numbers): PDFArray => book.context.obj([...numbers]);
    page.node.set(PDFName.of('MediaBox'), own(media));
    for (const [key, box] of Object.entries(boxes)) {
      page.node.set(PDFName.of(`${key[0]?.toUpperCase()}${key.slice(1)}Box`), own(box));
    }
    if (rotate !== undefined) page.node.set(PDFName.of('Rotate'), PDFNumber.of(rotate));
    if (userUnit !== undefined) page.node.set(PDFName.of('UserUnit'), PDFNumber.of(userUnit));
    const [x0, y0, x1, y1] = media;
    page.drawRectangle({ x: x0 - 300, y: y0 - 300, width: x1 - x0 + 600, height: y1 - y0 + 600, color: GROUND });
    for (let at = -300; at < 1200; at += 17) {
      page.drawLine({ start: { x: x0 + at, y: y0 - 300 }, end: { x: x0 + at + 200, y: y1 + 300 }, thickness: 0.7 });
    }
    page.drawText(`${index + 1} ${name}`, {
      x: (x0 + x1) / 2 - 40,
      y: (y0 + y1) / 2,
      size: 9,
      font,
      color: rgb(1, 1, 1),
    });
  });
  return book.save({ useObjectStreams: packed });
}
