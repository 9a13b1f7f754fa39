import { mkdir, rename, rm, writeFile } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { PDFDocument } from '@cantoo/pdf-lib';
import { chromium } from 'playwright-core';
import { pieceByFile } from '../../../demo/book/faces.ts';
import type { FaceFile } from '../../../demo/book/faces.ts';
import { preparePages } from '../../../demo/book/prepare-pages.ts';
import type { PreparedItem, PreparedPage } from '../../../demo/book/prepare-pages.ts';
import type { PreparedPicture } from '../../../demo/book/prepare-picture.ts';
import type { Ink, TextItem } from '../../../demo/book/spec.ts';
import { MM_PER_PT, widthMm } from '../../../demo/book/typeset.ts';
import type { Maker } from './maker.ts';

/**
 * A maker that writes the book as a web page of drawings and has it printed, RGB only. The boxes are put in afterwards,
 * because a browser knows none.
 */
export const printWithBrowser: Maker = async (book, how, workshop, path) => {
  if (how.colour === 'cmyk') throw new Error('a browser prints no process inks');
  const folder = `${resolve(path)}.parts`;
  await mkdir(folder, { recursive: true });
  await mkdir(dirname(path), { recursive: true });
  const faces = new Map<string, FaceFile>();
  const pages: PreparedPage[] = [];
  const sheets: string[] = [];
  for await (const page of preparePages(book, how, workshop)) {
    sheets.push(await sheetOf(page, { folder, faces, number: sheets.length + 1 }));
    pages.push(page);
  }
  const file = `${folder}/book.html`;
  await writeFile(file, htmlOf(pages, sheets, faces));
  const printed = await printFile(file);
  await writeFile(`${path}.part`, await withBoxes(printed, pages, how.bleed));
  await rename(`${path}.part`, path);
  await rm(folder, { recursive: true });
};

/** A browser of its own for each book: one that dies takes no other book with it. */
async function printFile(file: string): Promise<Buffer> {
  const executablePath = process.env.CHROMIUM_PATH ?? '/usr/bin/chromium';
  const browser = await chromium.launch({ executablePath, args: ['--no-sandbox'] });
  try {
    const tab = await browser.newPage();
    await tab.goto(pathToFileURL(file).href, { waitUntil: 'load' });
    await tab.evaluate('document.fonts.ready.then(() => undefined)');
    return await tab.pdf({ preferCSSPageSize: true, printBackground: true });
  } finally {
    await browser.close();
  }
}

function htmlOf(
  pages: readonly PreparedPage[],
  sheets: readonly string[],
  faces: ReadonlyMap<string, FaceFile>,
): string {
  const sizes = pages.map(
    ({ media }, index) => `@page p${index} { size: ${media.width}mm ${media.height}mm; margin: 0 }`,
  );
  const fonts = [...faces.values()].map(
    ({ name, path }) => `@font-face { font-family: "book-${name}"; src: url("${pathToFileURL(path).href}") }`,
  );
  const style = `${sizes.join('\n')}\n${fonts.join('\n')}\nbody { margin: 0 } svg { display: block }
    div { break-after: page; overflow: hidden } div:last-child { break-after: auto }`;
  const divs = sheets.map((svg, index) => {
    const { width, height } = pages[index]!.media;
    return `<div style="page: p${index}; width: ${width}mm; height: ${height}mm">${svg}</div>`;
  });
  return `<!doctype html><meta charset="utf-8"><title>book</title><style>${style}</style><body>${divs.join('')}</body>`;
}

interface Desk {
  readonly folder: string;
  readonly faces: Map<string, FaceFile>;
  readonly number: number;
}

async function sheetOf(page: PreparedPage, desk: Desk): Promise<string> {
  const { x, y, width, height } = page.media;
  const items: string[] = [];
  for (const [index, item] of page.items.entries()) items.push(await drawn(item, desk, index));
  const { trim } = page;
  const quarter = page.turned === 90 || page.turned === 270;
  const upright = quarter ? { width: trim.height, height: trim.width } : trim;
  const turn =
    page.turned === undefined
      ? ''
      : ` transform="translate(${trim.width / 2} ${trim.height / 2}) rotate(${page.turned}) translate(${upright.width / -2} ${upright.height / -2})"`;
  const size = `width="${width}mm" height="${height}mm" viewBox="${x} ${y} ${width} ${height}"`;
  return `<svg xmlns="http://www.w3.org/2000/svg" ${size}><g${turn}>${items.join('')}</g></svg>`;
}

async function drawn(item: PreparedItem, desk: Desk, index: number): Promise<string> {
  switch (item.kind) {
    case 'prepared':
      return drawnPicture(item, desk, index);
    case 'text':
      return drawnText(item, desk);
    case 'rule':
      return `<path d="M ${item.from.x} ${item.from.y} L ${item.to.x} ${item.to.y}" ${stroke(item.ink, item.widthPt)}/>`;
    case 'tint': {
      const { x, y, width, height } = item.box;
      return `<rect x="${x}" y="${y}" width="${width}" height="${height}" fill="${css(item.ink)}"/>`;
    }
    case 'path': {
      const fill = item.fill === undefined ? 'fill="none"' : `fill="${css(item.fill)}"`;
      const dash =
        item.dashPt === undefined ? '' : ` stroke-dasharray="${item.dashPt.map((pt) => pt * MM_PER_PT).join(' ')}"`;
      return `<path d="${item.d}" ${fill} ${item.stroke === undefined ? '' : stroke(item.stroke, item.widthPt ?? 1)}${dash}/>`;
    }
  }
}

async function drawnPicture(picture: PreparedPicture, desk: Desk, index: number): Promise<string> {
  const { frame, turnDeg, mirrored } = picture.item;
  const [cx, cy] = [frame.x + frame.width / 2, frame.y + frame.height / 2];
  const id = `w${desk.number}i${index}`;
  const images: string[] = [];
  for (const [strip, piece] of picture.pieces.entries()) {
    const name = `${id}s${strip}.jpg`;
    if (piece.filter !== 'DCTDecode') throw new Error('the browser is given JPEG only');
    await writeFile(`${desk.folder}/${name}`, piece.bytes);
    const { x, y, width, height } = piece.box;
    images.push(
      `<image href="${name}" x="${x}" y="${y}" width="${width}" height="${height}" preserveAspectRatio="none"/>`,
    );
  }
  const flip =
    mirrored === undefined ? '' : ` scale(${mirrored === 'horizontal' ? -1 : 1} ${mirrored === 'vertical' ? -1 : 1})`;
  const turn = mirrored === undefined ? (turnDeg ?? 0) : 0 - (turnDeg ?? 0);
  const content = `<g transform="translate(${cx} ${cy})${flip} rotate(${turn}) translate(${-cx} ${-cy})">${images.join('')}</g>`;
  if (!picture.clipped) return content;
  const window = `<rect x="${frame.x}" y="${frame.y}" width="${frame.width}" height="${frame.height}"/>`;
  return `<clipPath id="${id}">${window}</clipPath><g clip-path="url(#${id})">${content}</g>`;
}

function drawnText(item: TextItem, desk: Desk): string {
  return item.lines
    .map((line) => {
      let x = line.x;
      const spans = pieceByFile(line.text, line.face).map((piece) => {
        desk.faces.set(piece.file.name, piece.file);
        const at = x;
        x += widthMm(piece.text, line.face, line.sizePt);
        return `<tspan x="${at}" font-family="book-${piece.file.name}">${escaped(piece.text)}</tspan>`;
      });
      const style = `font-size="${line.sizePt * MM_PER_PT}" fill="${css(line.ink)}" xml:space="preserve"`;
      return `<text y="${line.baseline}" ${style}>${spans.join('')}</text>`;
    })
    .join('');
}

function stroke(ink: Ink, widthPt: number): string {
  return `stroke="${css(ink)}" stroke-width="${widthPt * MM_PER_PT}"`;
}

function css(ink: Ink): string {
  return `rgb(${ink.rgb.join(' ')})`;
}

function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;');
}

async function withBoxes(bytes: Buffer, pages: readonly PreparedPage[], bleed: boolean): Promise<Uint8Array> {
  const doc = await PDFDocument.load(bytes, { updateMetadata: false });
  doc.setCreationDate(new Date(0));
  doc.setModificationDate(new Date(0));
  if (doc.getPageCount() !== pages.length)
    throw new Error(`${doc.getPageCount()} pages printed, ${pages.length} expected`);
  doc.getPages().forEach((sheet, index) => {
    const { media, trim } = pages[index]!;
    const pt = (mm: number): number => mm / MM_PER_PT;
    // The browser rounds a sheet to its own grid, from the top left corner.
    const top = sheet.getHeight();
    const [x, y] = [pt(trim.x - media.x), top - pt(trim.y - media.y + trim.height)];
    if (!bleed) return;
    sheet.setTrimBox(x, y, pt(trim.width), pt(trim.height));
    sheet.setBleedBox(
      0,
      Math.max(0, top - pt(media.height)),
      Math.min(sheet.getWidth(), pt(media.width)),
      pt(media.height),
    );
  });
  return doc.save({ useObjectStreams: false });
}
