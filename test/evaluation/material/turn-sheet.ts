import { readFile, writeFile } from 'node:fs/promises';
import * as pdf from '@cantoo/pdf-lib';

/** Numbers of a map of page space, as ISO 32000-2 8.3.3 writes them. */
type Six = readonly [number, number, number, number, number, number];

/**
 * Turns the content of every page one way and lets /Rotate turn it back, as some programs store upright pages: what is
 * seen stays the same.
 */
export async function turnSheets(source: string, target: string, degrees: 90 | 180 | 270): Promise<void> {
  await mapPages(source, target, (sheet) => {
    const { x, y, width, height } = sheet.getMediaBox();
    const [right, top] = [x + width, y + height];
    // Content is turned against the clock by as much as the viewer turns the page with it.
    const map: Six =
      degrees === 90 ? [0, 1, -1, 0, top, -x] : degrees === 180 ? [-1, 0, 0, -1, right, top] : [0, -1, 1, 0, -y, right];
    sheet.setRotation(pdf.degrees(degrees));
    return map;
  });
}

/** Another origin of page space, and a larger sheet around the bleed with crop marks and a colour bar in it. */
export async function addSlug(source: string, target: string): Promise<void> {
  const slugPt = 40;
  const origin = { x: -137.5, y: 61.25 };
  await mapPages(
    source,
    target,
    (sheet) => {
      const { x, y } = sheet.getMediaBox();
      return [1, 0, 0, 1, origin.x + slugPt - x, origin.y + slugPt - y];
    },
    (sheet) => {
      const { width, height } = sheet.getMediaBox();
      sheet.setMediaBox(origin.x, origin.y, width + 2 * slugPt, height + 2 * slugPt);
      sheet.setCropBox(origin.x, origin.y, width + 2 * slugPt, height + 2 * slugPt);
      drawMarks(sheet, slugPt);
    },
  );
}

function drawMarks(sheet: pdf.PDFPage, slugPt: number): void {
  const trim = sheet.getTrimBox();
  const media = sheet.getMediaBox();
  const ink = { thickness: 0.25, color: pdf.cmyk(1, 1, 1, 1) };
  for (const x of [trim.x, trim.x + trim.width]) {
    sheet.drawLine({ start: { x, y: media.y + 4 }, end: { x, y: media.y + slugPt - 4 }, ...ink });
    const top = media.y + media.height;
    sheet.drawLine({ start: { x, y: top - slugPt + 4 }, end: { x, y: top - 4 }, ...ink });
  }
  for (const y of [trim.y, trim.y + trim.height]) {
    sheet.drawLine({ start: { x: media.x + 4, y }, end: { x: media.x + slugPt - 4, y }, ...ink });
    const right = media.x + media.width;
    sheet.drawLine({ start: { x: right - slugPt + 4, y }, end: { x: right - 4, y }, ...ink });
  }
  const bar = [pdf.cmyk(1, 0, 0, 0), pdf.cmyk(0, 1, 0, 0), pdf.cmyk(0, 0, 1, 0), pdf.cmyk(0, 0, 0, 1)];
  bar.forEach((color, index) => {
    const at = { x: trim.x + trim.width / 2 + index * 12, y: media.y + 10, width: 12, height: 12 };
    sheet.drawRectangle({ ...at, color });
  });
}

async function mapPages(
  source: string,
  target: string,
  mapOf: (sheet: pdf.PDFPage) => Six,
  after: (sheet: pdf.PDFPage) => void = () => undefined,
): Promise<void> {
  const doc = await pdf.PDFDocument.load(await readFile(source), { updateMetadata: false });
  const { context } = doc;
  for (const sheet of doc.getPages()) {
    const boxes = (['MediaBox', 'CropBox', 'BleedBox', 'TrimBox', 'ArtBox'] as const).flatMap((name) => {
      const has = sheet.node.get(pdf.PDFName.of(name)) !== undefined || name === 'MediaBox';
      return has ? [{ name, box: sheet[`get${name}`]() }] : [];
    });
    const map = mapOf(sheet);
    const opening = [pdf.pushGraphicsState(), pdf.concatTransformationMatrix(...map)];
    const start = context.register(context.contentStream(opening));
    const end = context.register(context.contentStream([pdf.popGraphicsState()]));
    sheet.node.normalize();
    sheet.node.wrapContentStreams(start, end);
    for (const { name, box } of boxes) {
      const [ax, ay] = apply(map, box.x, box.y);
      const [bx, by] = apply(map, box.x + box.width, box.y + box.height);
      sheet[`set${name}`](Math.min(ax, bx), Math.min(ay, by), Math.abs(bx - ax), Math.abs(by - ay));
    }
    after(sheet);
  }
  await writeFile(target, await doc.save());
}

function apply([a, b, c, d, e, f]: Six, x: number, y: number): readonly [number, number] {
  return [a * x + c * y + e, b * x + d * y + f];
}
