import { mkdir, rename, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
import { dirname } from 'node:path';
import * as pdf from '@cantoo/pdf-lib';
import type { PDFDocument, PDFFont, PDFPage, PDFRef } from '@cantoo/pdf-lib';
import { pieceByFile } from '../../../demo/book/faces.ts';
import { preparePages } from '../../../demo/book/prepare-pages.ts';
import type { PreparedItem, PreparedPage } from '../../../demo/book/prepare-pages.ts';
import type { PreparedPicture, PreparedPiece } from '../../../demo/book/prepare-picture.ts';
import type { Ink, TextItem } from '../../../demo/book/spec.ts';
import { widthMm } from '../../../demo/book/typeset.ts';
import type { Box } from '../../../src/model/index.ts';
import type { Maker } from './maker.ts';

// The shaper that comes with pdfkit serves this library too.
const shaper = createRequire(createRequire(import.meta.url).resolve('pdfkit'))('fontkit') as Parameters<
  PDFDocument['registerFontkit']
>[0];
const PT = 72 / 25.4;
const MADE_ON = new Date(Date.UTC(2026, 2, 9));

/** A maker that draws upright, in points, and puts every second picture into a form of its own. */
export const drawWithPdfLib: Maker = async (book, how, workshop, path) => {
  await mkdir(dirname(path), { recursive: true });
  const doc = await pdf.PDFDocument.create();
  doc.registerFontkit(shaper);
  doc.setTitle(book.title);
  doc.setCreationDate(MADE_ON);
  doc.setModificationDate(MADE_ON);
  const bench: Bench = { doc, fonts: new Map(), images: new Map(), colour: how.colour };
  for await (const page of preparePages(book, how, workshop)) await drawPage(bench, page, how.bleed);
  await writeFile(`${path}.part`, await doc.save({ useObjectStreams: true }));
  await rename(`${path}.part`, path);
};

interface Bench {
  readonly doc: PDFDocument;
  readonly fonts: Map<string, PDFFont>;
  readonly images: Map<Buffer, PDFRef>;
  readonly colour: 'rgb' | 'cmyk';
}

async function drawPage(bench: Bench, page: PreparedPage, bleed: boolean): Promise<void> {
  const { media, trim } = page;
  const sheet = bench.doc.addPage([media.width * PT, media.height * PT]);
  if (bleed) {
    sheet.setBleedBox(0, 0, media.width * PT, media.height * PT);
    sheet.setTrimBox((trim.x - media.x) * PT, (trim.y - media.y) * PT, trim.width * PT, trim.height * PT);
  }
  if (page.turned !== undefined) {
    const { width, height } = page.turned === 180 ? trim : { width: trim.height, height: trim.width };
    const [cx, cy] = [(trim.width / 2 - media.x) * PT, (media.height + media.y - trim.height / 2) * PT];
    sheet.pushOperators(
      pdf.translate(cx, cy),
      pdf.rotateRadians((page.turned * Math.PI) / -180),
      pdf.translate((media.x - width / 2) * PT, (height / 2 - media.height - media.y) * PT),
    );
  }
  for (const [index, item] of page.items.entries()) await drawItem(bench, sheet, item, { media, index });
}

interface Place {
  readonly media: Box;
  readonly index: number;
}

async function drawItem(bench: Bench, sheet: PDFPage, item: PreparedItem, place: Place): Promise<void> {
  const { media } = place;
  const x = (mm: number): number => (mm - media.x) * PT;
  const y = (mm: number): number => (media.y + media.height - mm) * PT;
  const ink = (colour: Ink): pdf.Color => {
    const [c, m, ye, k] = colour.cmyk;
    const [r, g, b] = colour.rgb;
    return bench.colour === 'cmyk' ? pdf.cmyk(c / 100, m / 100, ye / 100, k / 100) : pdf.rgb(r / 255, g / 255, b / 255);
  };
  switch (item.kind) {
    case 'prepared':
      return drawPicture(bench, sheet, item, place);
    case 'text':
      return drawText(bench, sheet, item, { x, y, ink });
    case 'rule':
      sheet.drawLine({
        start: { x: x(item.from.x), y: y(item.from.y) },
        end: { x: x(item.to.x), y: y(item.to.y) },
        thickness: item.widthPt,
        color: ink(item.ink),
      });
      return;
    case 'tint': {
      const { width, height } = item.box;
      const at = { x: x(item.box.x), y: y(item.box.y + height), width: width * PT, height: height * PT };
      sheet.drawRectangle({ ...at, color: ink(item.ink) });
      return;
    }
    case 'path':
      sheet.drawSvgPath(item.d, {
        x: x(0),
        y: y(0),
        scale: PT,
        ...(item.fill === undefined ? {} : { color: ink(item.fill) }),
        ...(item.stroke === undefined ? {} : { borderColor: ink(item.stroke), borderWidth: (item.widthPt ?? 1) / PT }),
        ...(item.dashPt === undefined ? {} : { borderDashArray: item.dashPt.map((pt) => pt / PT) }),
      });
  }
}

interface Axes {
  x(mm: number): number;
  y(mm: number): number;
  ink(colour: Ink): pdf.Color;
}

async function drawText(bench: Bench, sheet: PDFPage, item: TextItem, axes: Axes): Promise<void> {
  for (const line of item.lines) {
    let at = line.x;
    for (const piece of pieceByFile(line.text, line.face)) {
      let font = bench.fonts.get(piece.file.path);
      if (font === undefined) {
        font = await bench.doc.embedFont(readFileSync(piece.file.path), { subset: true });
        bench.fonts.set(piece.file.path, font);
      }
      const place = { x: axes.x(at), y: axes.y(line.baseline) };
      sheet.drawText(piece.text, { ...place, size: line.sizePt, font, color: axes.ink(line.ink) });
      at += widthMm(piece.text, line.face, line.sizePt);
    }
  }
}

async function drawPicture(bench: Bench, sheet: PDFPage, picture: PreparedPicture, place: Place): Promise<void> {
  const { media, index } = place;
  const operators = pictureOperators(picture, media);
  const xObjects: Record<string, PDFRef> = {};
  for (const [strip, piece] of picture.pieces.entries()) {
    const name = `Image${index}s${strip}`;
    xObjects[name] = await imageOf(bench, piece);
    operators.push(...pieceOperators(piece, media, name));
  }
  operators.push(pdf.popGraphicsState());
  if (index % 2 === 0) {
    for (const [name, ref] of Object.entries(xObjects)) sheet.node.setXObject(pdf.PDFName.of(name), ref);
    sheet.pushOperators(...operators);
    return;
  }
  const form = bench.doc.context.formXObject(operators, {
    BBox: bench.doc.context.obj([0, 0, media.width * PT, media.height * PT]),
    Resources: { XObject: xObjects },
  });
  const name = pdf.PDFName.of(`Form${index}`);
  sheet.node.setXObject(name, bench.doc.context.register(form));
  sheet.pushOperators(pdf.pushGraphicsState(), pdf.drawObject(name), pdf.popGraphicsState());
}

function pictureOperators({ item, clipped }: PreparedPicture, media: Box): pdf.PDFOperator[] {
  const { frame, turnDeg, mirrored } = item;
  const [left, foot] = [(frame.x - media.x) * PT, (media.y + media.height - frame.y - frame.height) * PT];
  const [width, height] = [frame.width * PT, frame.height * PT];
  const operators = [pdf.pushGraphicsState()];
  if (clipped) operators.push(pdf.rectangle(left, foot, width, height), pdf.clip(), pdf.endPath());
  operators.push(pdf.translate(left + width / 2, foot + height / 2));
  if (mirrored !== undefined)
    operators.push(pdf.scale(mirrored === 'horizontal' ? -1 : 1, mirrored === 'vertical' ? -1 : 1));
  const turn = (mirrored === undefined ? -1 : 1) * (turnDeg ?? 0);
  if (turn !== 0) operators.push(pdf.rotateRadians((turn * Math.PI) / 180));
  operators.push(pdf.translate(-left - width / 2, -foot - height / 2));
  return operators;
}

function pieceOperators({ box }: PreparedPiece, media: Box, name: string): readonly pdf.PDFOperator[] {
  const [left, foot] = [(box.x - media.x) * PT, (media.y + media.height - box.y - box.height) * PT];
  return [
    pdf.pushGraphicsState(),
    pdf.concatTransformationMatrix(box.width * PT, 0, 0, box.height * PT, left, foot),
    pdf.drawObject(name),
    pdf.popGraphicsState(),
  ];
}

async function imageOf({ doc, images }: Bench, piece: PreparedPiece): Promise<PDFRef> {
  let ref = images.get(piece.bytes);
  if (ref === undefined) {
    if (piece.filter === 'DCTDecode') ref = (await doc.embedJpg(piece.bytes)).ref;
    else {
      const dictionary = {
        Type: 'XObject',
        Subtype: 'Image',
        Width: piece.width,
        Height: piece.height,
        BitsPerComponent: 8,
        ColorSpace: piece.channels === 4 ? 'DeviceCMYK' : 'DeviceRGB',
        Filter: piece.filter,
      };
      ref = doc.context.register(doc.context.stream(piece.bytes, dictionary));
    }
    images.set(piece.bytes, ref);
  }
  return ref;
}
