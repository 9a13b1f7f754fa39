import { createHash } from 'node:crypto';
import { pieceByFile, useFace } from './faces.ts';
import type { PreparedItem } from './prepare-pages.ts';
import type { PreparedPicture, PreparedPiece } from './prepare-picture.ts';
import type { Ink, PathItem, TextItem } from './spec.ts';
import { MM_PER_PT, widthMm } from './typeset.ts';

type Colour = 'rgb' | 'cmyk';

/** Draws one item; the document's space is mm from the trim's top left. */
export function drawItem(doc: PDFKit.PDFDocument, item: PreparedItem, colour: Colour): void {
  switch (item.kind) {
    case 'prepared':
      return drawPicture(doc, item);
    case 'text':
      return drawText(doc, item, colour);
    case 'rule':
      doc
        .lineWidth(item.widthPt * MM_PER_PT)
        .moveTo(item.from.x, item.from.y)
        .lineTo(item.to.x, item.to.y);
      doc.stroke(inkOf(item.ink, colour));
      return;
    case 'tint':
      doc.rect(item.box.x, item.box.y, item.box.width, item.box.height).fill(inkOf(item.ink, colour));
      return;
    case 'path':
      return drawPath(doc, item, colour);
  }
}

/** pdfkit takes arrays of three as RGB and of four as inks. */
function inkOf(ink: Ink, colour: Colour): [number, number, number] {
  return [...ink[colour]] as unknown as [number, number, number];
}

function drawPath(doc: PDFKit.PDFDocument, item: PathItem, colour: Colour): void {
  doc.save();
  doc
    .lineWidth((item.widthPt ?? 1) * MM_PER_PT)
    .lineJoin('round')
    .lineCap('round')
    .path(item.d);
  if (item.dashPt !== undefined) doc.dash(item.dashPt[0] * MM_PER_PT, { space: item.dashPt[1] * MM_PER_PT });
  if (item.fill !== undefined && item.stroke !== undefined) {
    doc.fillAndStroke(inkOf(item.fill, colour), inkOf(item.stroke, colour));
  } else if (item.fill !== undefined) doc.fill(inkOf(item.fill, colour));
  else if (item.stroke !== undefined) doc.stroke(inkOf(item.stroke, colour));
  doc.restore();
}

function drawText(doc: PDFKit.PDFDocument, item: TextItem, colour: Colour): void {
  for (const line of item.lines) {
    let x = line.x;
    for (const piece of pieceByFile(line.text, line.face)) {
      useFace(doc, piece.file).fontSize(line.sizePt).fillColor(inkOf(line.ink, colour));
      doc.save();
      doc.translate(x, line.baseline).scale(MM_PER_PT);
      doc.text(piece.text, 0, 0, { lineBreak: false, baseline: 'alphabetic' });
      doc.restore();
      x += widthMm(piece.text, line.face, line.sizePt);
    }
  }
}

function drawPicture(doc: PDFKit.PDFDocument, picture: PreparedPicture): void {
  const { frame, turnDeg, mirrored } = picture.item;
  doc.save();
  if (picture.clipped) doc.rect(frame.x, frame.y, frame.width, frame.height).clip();
  const middle: [number, number] = [frame.x + frame.width / 2, frame.y + frame.height / 2];
  if (mirrored !== undefined) {
    doc.scale(mirrored === 'horizontal' ? -1 : 1, mirrored === 'vertical' ? -1 : 1, { origin: middle });
  }
  if (turnDeg !== undefined && turnDeg !== 0)
    doc.rotate(mirrored === undefined ? turnDeg : 0 - turnDeg, { origin: middle });
  for (const piece of picture.pieces) {
    const name = imageName(doc, piece);
    const { x, y, width, height } = piece.box;
    doc.save();
    doc.transform(width, 0, 0, 0 - height, x, y + height);
    doc.addContent(`/${name} Do`);
    doc.restore();
  }
  doc.restore();
}

const imagesOf = new WeakMap<object, Map<string, PDFKit.PDFKitReference>>();

/** Puts an image into the document once, however often it is placed. */
function imageName(doc: PDFKit.PDFDocument, piece: PreparedPiece): string {
  const images = imagesOf.get(doc) ?? new Map<string, PDFKit.PDFKitReference>();
  imagesOf.set(doc, images);
  const name = `P${createHash('sha256').update(piece.bytes).digest('hex').slice(0, 12)}`;
  let image = images.get(name);
  if (image === undefined) {
    image = doc.ref({
      Type: 'XObject',
      Subtype: 'Image',
      Width: piece.width,
      Height: piece.height,
      BitsPerComponent: 8,
      ColorSpace: piece.channels === 4 ? 'DeviceCMYK' : 'DeviceRGB',
      Filter: piece.filter,
      // The JPEG library writes inks inverted, as the Adobe marker says.
      ...(piece.channels === 4 && piece.filter === 'DCTDecode' ? { Decode: [1, 0, 1, 0, 1, 0, 1, 0] } : {}),
    });
    image.end(piece.bytes);
    images.set(name, image);
  }
  (doc.page.xobjects as Record<string, unknown>)[name] = image;
  return name;
}
