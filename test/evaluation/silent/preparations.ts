import { excerpt } from '../../../demo/book/edits/pages.ts';
import { DUMMY, FINAL } from '../../../demo/book/preparation.ts';
import type { Preparation } from '../../../demo/book/preparation.ts';
import { SHELF } from '../books/shelf.ts';
import type { ShelvedBook } from '../books/shelf.ts';
import { bookFile } from '../material/store.ts';
import type { SilentCase } from './silent-case.ts';

/** A plain final without a named printing condition. */
const INKS: Preparation = { ...FINAL, outputIntent: false };

interface Prepared {
  readonly name: string;
  readonly book: ShelvedBook['name'];
  readonly pages?: readonly number[];
  readonly dummy?: Preparation;
  readonly revision: Preparation;
  readonly done: string;
  readonly why: string;
}

const MORE_OF_WINTER = [2, 7, 9, 10, 11, 15, 18, 19, 21, 24, 27, 29];

const PREPARED: readonly Prepared[] = [
  {
    name: 'inks at 300 ppi',
    book: 'winter',
    revision: FINAL,
    done: 'RGB at 100 ppi, JPEG 75, against process inks at 300 ppi, JPEG 92, by sharp and pdfkit',
    why: 'this is what a final is',
  },
  {
    name: 'inks at 300 ppi, drawn by the object library',
    book: 'salt',
    revision: INKS,
    done: 'the same with pictures inside forms and no output intent, by pdf-lib',
    why: 'this is what a final is',
  },
  {
    name: 'inks at 240 ppi without JPEG',
    book: 'winter',
    pages: MORE_OF_WINTER,
    revision: { ...INKS, ppi: 240, coding: 'flate' },
    done: 'process inks at 240 ppi, lossless, by sharp and pdfkit',
    why: 'a finer way of keeping the same picture',
  },
  {
    name: 'inks at 240 ppi without JPEG, drawn by the object library',
    book: 'salt',
    pages: [2, 3, 4, 6, 7, 8, 10, 11, 13, 15, 16, 17],
    revision: { ...INKS, ppi: 240, coding: 'flate' },
    done: 'process inks at 240 ppi, lossless, by sharp and pdf-lib',
    why: 'a finer way of keeping the same picture',
  },
  {
    name: 'uncoated stock',
    book: 'winter',
    revision: { ...INKS, ppi: 200, tone: 'uncoated' },
    done: 'lightness drawn into 12 to 95 and colours a seventh paler before the conversion, by sharp',
    why: 'what a conversion for a stock that swallows ink does to every picture alike',
  },
  {
    name: 'uncoated stock, drawn by the object library',
    book: 'salt',
    revision: { ...INKS, ppi: 200, tone: 'uncoated' },
    done: 'the same tone compression, by sharp and pdf-lib',
    why: 'what a conversion for a stock that swallows ink does to every picture alike',
  },
  {
    name: 'strips',
    book: 'salt',
    revision: { ...INKS, ppi: 200, strips: 7, data: 'precropped' },
    done: 'every picture cut into seven strips, by sharp and pdf-lib',
    why: 'some exporters cut pictures; the page is the same',
  },
  {
    name: 'cut data against clipped',
    book: 'winter',
    pages: [2, 8, 10, 11, 13, 15, 16, 18, 20, 21, 23, 24, 25, 26, 27, 30],
    dummy: { ...DUMMY, data: 'clipped' },
    revision: { ...INKS, ppi: 200, data: 'precropped' },
    done: 'data around the window under a clipping path, against data cut to the window, by sharp and pdfkit',
    why: 'what is hidden by the window is nobody’s business',
  },
  {
    name: 'dummy without bleed',
    book: 'ledge',
    dummy: { ...DUMMY, bleed: false },
    revision: { ...DUMMY, ppi: 200, coding: 90 },
    done: 'pages of the trimmed size without any box, against pages with bleed and boxes, by a browser',
    why: 'the dummy is printed as it will be trimmed',
  },
  {
    name: 'another resampling',
    book: 'ledge',
    revision: { ...DUMMY, ppi: 180, coding: 88, kernel: 'mitchell', data: 'clipped' },
    done: 'RGB at 180 ppi through another resampling kernel, by sharp and a browser',
    why: 'kernels differ by less than a person sees',
  },
];

/** The book prepared anew by its own maker. */
export const PREPARATIONS: readonly SilentCase[] = PREPARED.map((prepared) => ({
  name: prepared.name,
  done: prepared.done,
  why: prepared.why,
  pages: prepared.pages?.length ?? SHELF[prepared.book].spec.pages.length,
  async make(store) {
    const book = SHELF[prepared.book];
    const spec = prepared.pages === undefined ? book.spec : excerpt(book.spec, prepared.pages);
    return {
      dummyPath: await bookFile(store, book, spec, prepared.dummy ?? DUMMY),
      revisionPath: await bookFile(store, book, spec, prepared.revision),
    };
  },
}));
