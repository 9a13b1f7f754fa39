import { createRequire } from 'node:module';
import { join } from 'node:path';
import type { PlanChoice } from '../../../src/archive/index.ts';
import type { Report } from '../../../src/model/index.ts';
import { makePlan, type Plan, type PlanOrder } from '../../../src/plates/index.ts';
import { imposeSheets, type SheetOrder } from '../../../demo/sheets/impose.ts';
import type { Pool } from '../../../src/reading/pool/index.ts';
import { writeBook } from '../small-book.ts';
import type { SmallPage } from '../small-book.ts';
import { checkOfSheets } from './check-of-sheets.ts';

/** A face to embed, since programs draw those that are not with others. */
export const FACE = createRequire(import.meta.url).resolve('pdfjs-dist/standard_fonts/LiberationSans-Regular.ttf');

const TINTS = ['#c33', '#3a7', '#36c', '#963', '#639', '#555', '#a72', '#177'];
const WORDS = 'harbour lantern winter thistle engine mountain meadow rowing printer schoolhouse'.split(' ');

/** Writes a book whose pages are easily told apart: each with its number, lines of its own length, and most with a tint. */
export function writeSheetBook(path: string, pages: number, face?: string): Promise<string> {
  return writeBook(path, sheetPages(pages), face);
}

/** The pages of such a book. */
export function sheetPages(pages: number): SmallPage[] {
  return Array.from({ length: pages }, (_, index) => ({
    lines: [
      `Page ${index + 1} of the ${WORDS[index % 10]!}`,
      ...Array.from({ length: 1 + ((index * 7) % 11) }, (_line, nth) =>
        Array.from({ length: 1 + ((index + nth * 3) % 3) }, (_word, at) => WORDS[(index * 3 + nth + at) % 10]!).join(
          ' ',
        ),
      ),
    ],
    ...(index % 5 === 4 ? {} : { tint: TINTS[(index * 3) % 8]! }),
  }));
}

/** The usual plan of the small book. */
export function smallPlan(pages: number, more: Partial<PlanOrder> = {}): Plan {
  return makePlan({
    pages,
    trimmed: { width: 100, height: 120 },
    binding: 'sewn',
    sections: [{ pages }],
    ...more,
  });
}

let made = 0;

/** Makes sheets up and checks them against their book. */
export async function checkMade(
  folder: string,
  order: Omit<SheetOrder, 'outPath'> & { readonly dummyPath?: string },
  planChoice: PlanChoice,
  pool: Pool,
): Promise<Report> {
  // workers keep files open by their path
  made += 1;
  const sheetsPath = join(folder, `sheets-${made}.pdf`);
  await imposeSheets({ ...order, outPath: sheetsPath });
  const dummyPath = order.dummyPath ?? order.bookPath;
  return checkOfSheets({ dummyPath, sheetsPath, planChoice, keptFolder: join(folder, 'kept'), workers: pool });
}

/** What a report finds, in short: kind, dummy page, page of the folded book. */
export function told({ findings }: Report): string[] {
  return findings.map(({ kind, dummyPage, revisionPage }) => `${kind} ${dummyPage ?? '-'} ${revisionPage ?? '-'}`);
}
