import { createWriteStream } from 'node:fs';
import { mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import PDFDocument from 'pdfkit';

/** What a page of a small book shows: lines of type, a tint, or a broken stream. */
export interface SmallPage {
  readonly lines?: readonly string[];
  readonly tint?: string;
  /** A picture that shows through a window; in mm from the top left corner of the page. */
  readonly picture?: { readonly bytes: Buffer; readonly window: Mm; readonly placed: Mm };
  /** Content operators as they stand, for pages that are wrong on purpose. */
  readonly raw?: string;
}

/** A box in mm. */
export interface Mm {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

const MM = 72 / 25.4;

/** A folder of its own for the files of a test. */
export function scratchFolder(): Promise<string> {
  return mkdtemp(join(tmpdir(), 'witnessleaf-test-'));
}

/** Writes a book of 100 x 120 mm pages by pdfkit; `face` is a font file to embed, for programs that draw with others. */
export async function writeBook(path: string, pages: readonly SmallPage[], face = 'Helvetica'): Promise<string> {
  const document = new PDFDocument({ autoFirstPage: false, info: { CreationDate: new Date(0) } });
  const done = new Promise<void>((resolve, reject) => {
    document.pipe(createWriteStream(path)).on('finish', resolve).on('error', reject);
  });
  for (const page of pages) {
    document.addPage({ size: [100 * MM, 120 * MM], margin: 0 });
    if (page.tint !== undefined) document.rect(20 * MM, 60 * MM, 50 * MM, 30 * MM).fill(page.tint);
    if (page.picture !== undefined) {
      const { bytes, window, placed } = page.picture;
      const [width, height] = [placed.width * MM, placed.height * MM];
      document
        .save()
        .rect(window.x * MM, window.y * MM, window.width * MM, window.height * MM)
        .clip();
      document.image(bytes, placed.x * MM, placed.y * MM, { width, height }).restore();
    }
    document.fillColor('black').font(face).fontSize(11);
    (page.lines ?? []).forEach((line, nth) => document.text(line, 15 * MM, (15 + 6 * nth) * MM, { lineBreak: false }));
    if (page.raw !== undefined) document.addContent(page.raw);
  }
  document.end();
  await done;
  return path;
}
