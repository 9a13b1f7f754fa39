import { winterBook } from '../../../demo/book/a-winters-round.ts';
import type { PictureLibrary } from '../../../demo/book/library.ts';
import { PHOTOGRAPHS } from '../../../demo/book/photographs.ts';
import { renderBook } from '../../../demo/book/render.ts';
import type { BookSpec } from '../../../demo/book/spec.ts';
import { drawWithPdfLib } from './draw-with-pdf-lib.ts';
import { generateBook } from './generated-book.ts';
import type { Layout } from './generated-book.ts';
import { INVENTED_PICTURES } from './invented-pictures.ts';
import type { Maker } from './maker.ts';
import { printWithBrowser } from './print-with-browser.ts';

/** A book to be judged by: what is in it, where its pictures come from, what program writes it. */
export interface ShelvedBook {
  readonly name: 'winter' | 'salt' | 'ledge';
  readonly spec: BookSpec;
  readonly library: PictureLibrary;
  readonly make: Maker;
  /** Whether its maker can write process inks. */
  readonly inks: boolean;
}

const MANY: readonly Layout[] = [
  'text',
  'full',
  'framed',
  'pair',
  'blank',
  'four',
  'aside',
  'full',
  'drawing',
  'grey-and-colour',
  'framed',
  'text',
  'full',
  'black',
  'pair',
  'framed',
  'aside',
  'four',
  'full',
  'text',
  'framed',
  'drawing',
  'pair',
  'full',
];

/** The demonstration book and two that share nothing with it: other pictures, layouts, formats, faces and programs. */
export const SHELF: Readonly<Record<ShelvedBook['name'], ShelvedBook>> = {
  winter: { name: 'winter', spec: winterBook(), library: PHOTOGRAPHS, make: renderBook, inks: true },
  salt: {
    name: 'salt',
    spec: generateBook({
      title: 'Salt and other weathers',
      seed: 11,
      trimMm: { width: 210, height: 210 },
      bleedMm: 4,
      faces: { heading: 'sans-bold', text: 'sans', caption: 'sans-italic' },
      sorts: ['foliage', 'facade', 'sky', 'stone', 'sitter', 'water', 'fog', 'dunes', 'night', 'discs'],
      pages: MANY,
    }),
    library: INVENTED_PICTURES,
    make: drawWithPdfLib,
    inks: true,
  },
  ledge: {
    name: 'ledge',
    spec: generateBook({
      title: 'Ledge',
      seed: 23,
      trimMm: { width: 280, height: 216 },
      bleedMm: 3,
      faces: { heading: 'serif-light', text: 'serif', caption: 'sans' },
      sorts: ['dunes', 'sitter', 'stone', 'water', 'facade', 'sky', 'foliage', 'discs', 'night'],
      pages: MANY,
    }),
    library: INVENTED_PICTURES,
    make: printWithBrowser,
    inks: false,
  },
};
