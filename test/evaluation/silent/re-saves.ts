import { copyFile } from 'node:fs/promises';
import { excerpt } from '../../../demo/book/edits/pages.ts';
import { DUMMY, FINAL } from '../../../demo/book/preparation.ts';
import type { Preparation } from '../../../demo/book/preparation.ts';
import { SHELF } from '../books/shelf.ts';
import type { ShelvedBook } from '../books/shelf.ts';
import { ghostscript, qpdf } from '../material/outside-tools.ts';
import { bookFile, processedFile } from '../material/store.ts';
import { addSlug, turnSheets } from '../material/turn-sheet.ts';
import type { SilentCase } from './silent-case.ts';

interface Reworked {
  readonly name: string;
  readonly book: ShelvedBook['name'];
  readonly pages?: readonly number[];
  /** What the revision is made of, where that is not the dummy itself. */
  readonly from?: Preparation;
  readonly done: string;
  readonly why: string;
  readonly rework: (source: string, target: string) => Promise<void>;
  /** Done to the dummy first, for pairs of which neither is the plain file. */
  readonly dummyRework?: (source: string, target: string) => Promise<void>;
}

const PLATES: Preparation = { ...FINAL, ppi: 200, outputIntent: false };
const inks = (intent: 0 | 1) => [
  '-sColorConversionStrategy=CMYK',
  '-dProcessColorModel=/DeviceCMYK',
  `-dRenderIntent=${intent}`,
  '-dAutoFilterColorImages=false',
  '-dColorImageFilter=/FlateEncode',
  '-dDownsampleColorImages=false',
];

const REWORKED: readonly Reworked[] = [
  {
    name: 'the same bytes',
    book: 'winter',
    done: 'a copy',
    why: 'nothing was done',
    rework: (source, target) => copyFile(source, target),
  },
  {
    name: 're-saved with object streams',
    book: 'salt',
    done: 'qpdf --object-streams=generate --recompress-flate --compression-level=9',
    why: 'the same objects in another wrapping',
    rework: (source, target) =>
      qpdf(source, target, ['--object-streams=generate', '--recompress-flate', '--compression-level=9']),
  },
  {
    name: 're-saved in order of reading',
    book: 'ledge',
    done: 'qpdf --linearize --object-streams=disable --coalesce-contents',
    why: 'the same objects in another order',
    rework: (source, target) =>
      qpdf(source, target, ['--linearize', '--object-streams=disable', '--coalesce-contents']),
  },
  {
    name: 're-saved unpacked',
    book: 'winter',
    done: 'qpdf --stream-data=uncompress --normalize-content=y',
    why: 'the same marks, written out',
    rework: (source, target) => qpdf(source, target, ['--stream-data=uncompress', '--normalize-content=y']),
  },
  {
    name: 'distilled anew, pictures kept',
    book: 'salt',
    done: 'Ghostscript pdfwrite, JPEG data passed through',
    why: 'another program wrote the same page',
    rework: (source, target) => ghostscript(source, target, ['-dPassThroughJPEGImages=true']),
  },
  {
    name: 'distilled anew, pictures made smaller',
    book: 'winter',
    pages: [2, 8, 10, 11, 13, 15, 16, 18, 19, 21, 23, 25, 26, 29, 30, 32],
    from: { ...DUMMY, ppi: 200, coding: 90 },
    done: 'Ghostscript pdfwrite from RGB at 200 ppi, bicubic to 120 ppi',
    why: 'a proof that was sent by mail',
    rework: (source, target) =>
      ghostscript(source, target, [
        '-dDownsampleColorImages=true',
        '-dColorImageDownsampleType=/Bicubic',
        '-dColorImageResolution=120',
        '-dColorImageDownsampleThreshold=1.0',
      ]),
  },
  {
    name: 'relative intent against perceptual',
    book: 'ledge',
    pages: [1, 2, 3, 4, 6, 7, 8, 9, 10, 11, 13, 15, 16, 18],
    from: { ...DUMMY, ppi: 150, coding: 90 },
    done: 'both files converted to process inks by Ghostscript, the dummy with the perceptual intent, the revision with the relative one',
    why: 'the intent is the printer’s choice',
    dummyRework: (source, target) => ghostscript(source, target, inks(0)),
    rework: (source, target) => ghostscript(source, target, inks(1)),
  },
  {
    name: 'converted by the distiller',
    book: 'ledge',
    from: { ...DUMMY, ppi: 150, coding: 90 },
    done: 'Ghostscript from RGB to process inks, perceptual, pictures, type and tints alike',
    why: 'a conversion of the whole file',
    rework: (source, target) => ghostscript(source, target, inks(0)),
  },
  {
    name: 'crop marks in the slug',
    book: 'winter',
    from: PLATES,
    done: 'MediaBox with another origin, larger, crop marks and a colour bar outside the bleed, by pdf-lib',
    why: 'what is outside the trim is for the printer',
    rework: addSlug,
  },
  {
    name: 'stored turned by 90',
    book: 'salt',
    done: 'content turned against the clock, /Rotate 90 turns it back, by pdf-lib',
    why: 'it is seen upright',
    rework: (source, target) => turnSheets(source, target, 90),
  },
  {
    name: 'stored turned by 180',
    book: 'winter',
    pages: [1, 3, 5, 7, 9, 12, 14, 16, 18, 21, 25, 31],
    from: PLATES,
    done: 'content turned over, /Rotate 180, by pdf-lib',
    why: 'it is seen upright',
    rework: (source, target) => turnSheets(source, target, 180),
  },
  {
    name: 'stored turned by 270',
    book: 'ledge',
    from: { ...DUMMY, ppi: 150 },
    done: 'content turned with the clock, /Rotate 270, by pdf-lib',
    why: 'it is seen upright',
    rework: (source, target) => turnSheets(source, target, 270),
  },
  {
    name: 'type outlined',
    book: 'winter',
    done: 'Ghostscript -dNoOutputFonts: every letter a shape',
    why: 'printers outline type so that no font can go missing',
    rework: (source, target) => ghostscript(source, target, ['-dNoOutputFonts', '-dPassThroughJPEGImages=true']),
  },
  {
    name: 'type outlined, another face',
    book: 'salt',
    pages: [1, 3, 4, 7, 9, 12, 17, 20, 22],
    from: { ...DUMMY, ppi: 200, coding: 90 },
    done: 'Ghostscript -dNoOutputFonts on a book in a sans',
    why: 'printers outline type so that no font can go missing',
    rework: (source, target) => ghostscript(source, target, ['-dNoOutputFonts', '-dPassThroughJPEGImages=true']),
  },
];

/** The file worked over by another program. */
export const RE_SAVES: readonly SilentCase[] = REWORKED.map((reworked) => ({
  name: reworked.name,
  done: reworked.done,
  why: reworked.why,
  pages: reworked.pages?.length ?? SHELF[reworked.book].spec.pages.length,
  async make(store) {
    const book = SHELF[reworked.book];
    const spec = reworked.pages === undefined ? book.spec : excerpt(book.spec, reworked.pages);
    const dummy = await bookFile(store, book, spec, DUMMY);
    const from = reworked.from === undefined ? dummy : await bookFile(store, book, spec, reworked.from);
    const { dummyRework, rework } = reworked;
    const as = (role: string) => ['reworked', role, reworked.name, reworked.done];
    return {
      dummyPath: dummyRework === undefined ? dummy : await processedFile(store, from, as('dummy'), dummyRework),
      revisionPath: await processedFile(store, from, as('revision'), rework),
    };
  },
}));
