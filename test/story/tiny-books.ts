import { createWriteStream } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { finished } from 'node:stream/promises';
import PDFDocument from 'pdfkit';
import type { StoryBooks } from '../../demo/story/stage.ts';

const PAGES = ['The harbour in winter', 'A lantern at the quay', 'Thistles under snow', 'The long way home'];

/** The story's files as books of four pages, which are read and compared at once. */
export async function tinyBooks(folder: string): Promise<StoryBooks & { readonly lastPages: string }> {
  await mkdir(folder, { recursive: true });
  const altered = PAGES.with(1, 'A lantern on the quay');
  const [first = '', second = '', third = '', fourth = ''] = altered;
  const book = (name: string, lines: readonly string[]): Promise<string> => bind(join(folder, `${name}.pdf`), lines);
  return {
    dummy: await book('dummy', PAGES),
    prepared: await book('prepared', PAGES),
    corrected: await book('corrected', altered.with(2, 'Thistle under snow')),
    slipped: await book('slipped', altered.with(3, 'The long way hone')),
    disordered: await book('disordered', [first, second, fourth, third]),
    mended: await book('mended', altered),
    /** Pages 3 and 4 alone, as they were signed. */
    lastPages: await bind(join(folder, 'last-pages.pdf'), PAGES.slice(2), 2),
    authorsPages: [2],
  };
}

/** A book of pages with a line of large type and a grey picture each, made at a time of its own. @param before  pages left out */
async function bind(path: string, lines: readonly string[], before = 0): Promise<string> {
  const madeOn = new Date(Date.UTC(2031, 0, 1) + path.length * 1000);
  const book = new PDFDocument({ size: [400, 500], margin: 60, info: { CreationDate: madeOn } });
  const file = book.pipe(createWriteStream(path));
  lines.forEach((line, index) => {
    if (index > 0) book.addPage();
    book.fontSize(24).text(line);
    book
      .rect(60, 150 + (before + index) * 20, 200, 120)
      .fill('#888888')
      .fillColor('#000000');
  });
  book.end();
  await finished(file);
  return path;
}
