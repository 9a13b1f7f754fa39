import { createWriteStream } from 'node:fs';
import { mkdir, rename } from 'node:fs/promises';
import { dirname } from 'node:path';
import { finished } from 'node:stream/promises';
import PDFDocument from 'pdfkit';
import type { Box } from '../../src/model/index.ts';
import { drawItem } from './draw-item.ts';
import { addOutputIntent, inkProfileOf } from './output-intent.ts';
import type { Workshop } from './library.ts';
import { preparePages } from './prepare-pages.ts';
import type { PreparedPage } from './prepare-pages.ts';
import type { Preparation } from './preparation.ts';
import { MM_PER_PT } from './typeset.ts';
import type { BookSpec } from './spec.ts';

/** Fixed, so that the same book prepared the same way gives the same bytes. */
const MADE_ON = new Date(Date.UTC(2026, 1, 2, 9, 30));

/** Writes a book as a PDF file: one page each, MediaBox with the bleed, TrimBox and BleedBox set. */
export async function renderBook(book: BookSpec, how: Preparation, workshop: Workshop, path: string): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  const doc = new PDFDocument({
    autoFirstPage: false,
    margin: 0,
    pdfVersion: '1.6' as '1.7',
    info: { Title: book.title, Author: book.author, CreationDate: MADE_ON, ModDate: MADE_ON },
  });
  const file = createWriteStream(`${path}.part`);
  doc.pipe(file);
  if (how.outputIntent) addOutputIntent(doc, await inkProfileOf(how));
  for await (const page of preparePages(book, how, workshop)) drawPage(doc, page, how);
  doc.end();
  await finished(file);
  await rename(`${path}.part`, path);
}

function drawPage(doc: PDFKit.PDFDocument, page: PreparedPage, how: Preparation): void {
  const pt = (mm: number): number => mm / MM_PER_PT;
  const { media, trim } = page;
  doc.addPage({ size: [pt(media.width), pt(media.height)], margin: 0 });
  const box = (inner: Box): number[] => {
    const left = pt(inner.x - media.x);
    const bottom = pt(media.y + media.height - inner.y - inner.height);
    return [left, bottom, left + pt(inner.width), bottom + pt(inner.height)];
  };
  if (how.bleed) Object.assign(doc.page.dictionary.data, { TrimBox: box(trim), BleedBox: box(media) });
  doc.scale(1 / MM_PER_PT);
  doc.translate(0 - media.x, 0 - media.y);
  if (page.turned !== undefined) {
    const quarter = page.turned !== 180;
    doc.translate(trim.width / 2, trim.height / 2).rotate(page.turned);
    doc.translate((quarter ? trim.height : trim.width) / -2, (quarter ? trim.width : trim.height) / -2);
  }
  for (const item of page.items) drawItem(doc, item, how.colour);
}
