import { join } from 'node:path';
import { winterBook } from './a-winters-round.ts';
import { excerpt, inTurn, movePage, swapPages, unaltered } from './edits/pages.ts';
import type { Altered, Edit } from './edits/pages.ts';
import { changePicture, coarsen, dropPicture, replaceSource, shiftContent, treatPicture } from './edits/pictures.ts';
import { changeArtwork, rewrite } from './edits/type-and-artwork.ts';
import type { Workshop } from './library.ts';
import { PHOTOGRAPHS } from './photographs.ts';
import { DUMMY, FINAL } from './preparation.ts';
import type { Preparation } from './preparation.ts';
import { renderBook } from './render.ts';
import type { BookSpec } from './spec.ts';

/** A file of the demonstration book, and what was done to it on purpose. */
export interface MadeFile {
  readonly path: string;
  readonly planted: readonly string[];
  /** What was altered too, after both sides had agreed to it. */
  readonly agreed: readonly string[];
}

/** How much of the book is made, and how finely it is prepared for press. */
export interface Edition {
  /** Pages of the dummy that are taken; null for all of them. */
  readonly pages: readonly number[] | null;
  readonly final: Preparation;
}

/** The whole book, as it would go to press. */
export const WHOLE: Edition = { pages: null, final: FINAL };

/** Seven pages of it, as coarse as press allows: where a whole book would take too long. */
export const SHORT: Edition = { pages: [3, 7, 9, 12, 16, 23, 30], final: { ...FINAL, ppi: 220 } };

/** The dummy: RGB at 100 ppi, the file that was signed. */
export function makeDummy(folder: string, edition = WHOLE): Promise<MadeFile> {
  return render(folder, 'dummy.pdf', { planted: [], edit: unchanged }, { ...edition, final: DUMMY });
}

/** The final: process inks at 300 ppi, nothing else changed. */
export function makeFinal(folder: string, edition = WHOLE): Promise<MadeFile> {
  return render(folder, 'final.pdf', { planted: [], edit: unchanged }, edition);
}

/**
 * A later file, with faults planted in it or mended.
 *
 * @throws {Error} a name that no revision has
 */
export async function makeRevision(folder: string, name: string, edition = WHOLE): Promise<MadeFile> {
  const revision = REVISIONS[name];
  if (revision === undefined) throw new Error(`no revision is called ${name}`);
  return render(folder, `revision-${name}.pdf`, revision, edition);
}

/** Where pages of the whole dummy stand in the dummy of an edition, from 1. */
export function pagesIn(edition: Edition, pages: readonly number[]): readonly number[] {
  return edition.pages === null ? pages : pages.map((page) => (edition.pages ?? []).indexOf(page) + 1);
}

async function render(folder: string, name: string, revision: Revision, edition: Edition): Promise<MadeFile> {
  const { planted, agreed = [], edit } = revision;
  const path = join(folder, name);
  const workshop: Workshop = { library: PHOTOGRAPHS, keptFolder: join(folder, 'kept') };
  await renderBook(takenFrom(edit(unaltered(winterBook())), edition), edition.final, workshop, path);
  return { path, planted, agreed };
}

function takenFrom({ book, origins }: Altered, { pages }: Edition): BookSpec {
  if (pages === null) return book;
  return excerpt(
    book,
    origins.flatMap((origin, index) => (origin !== null && pages.includes(origin) ? [index + 1] : [])),
  );
}

interface Revision {
  readonly planted: readonly string[];
  readonly agreed?: readonly string[];
  readonly edit: Edit;
}

/** What the author wants otherwise after the dummy was signed. */
const ALTERATIONS = ['page 7: “winters” lost its s', 'page 9: the way of the lantern takes another path on the map'];
const unchanged: Edit = (book) => book;
const altered = inTurn(
  rewrite(7, 'eleven winters', 'eleven winter'),
  changeArtwork(9, 'path', 10, (path) => ({ ...path, d: path.d.replace('C 112 192 84 206', 'C 116 174 88 172') })),
);

/** Pages of the dummy on which the author altered something. */
export const ALTERED_PAGES: readonly number[] = [7, 9];

const REVISIONS: Readonly<Record<string, Revision>> = {
  'slipped-crop': {
    planted: ['page 23: the house stands 2.0 mm further left and 1.0 mm lower in its frame'],
    agreed: ALTERATIONS,
    edit: inTurn(altered, changePicture(23, 1, shiftContent(-2, 1))),
  },
  'carried-page': {
    planted: ['page 30 (thistle) is carried to position 4', 'page 16: the ring of the wing is gone'],
    agreed: ALTERATIONS,
    edit: inTurn(altered, dropPicture(16, 2), movePage(30, 4)),
  },
  'author-and-printer': {
    planted: [
      ...ALTERATIONS,
      'page 19: the second frame of the harbour is the first one, shown again',
      'page 20: the top of the mast is brushed away',
      'page 12: Málaholt lost its accent',
    ],
    edit: inTurn(
      altered,
      changePicture(19, 1, replaceSource('harbour')),
      changePicture(20, 1, treatPicture({ kind: 'smoothed', box: { x: 0.545, y: 0.14, width: 0.07, height: 0.07 } })),
      rewrite(12, 'Málaholt', 'Malaholt'),
    ),
  },
  mended: { planted: [], agreed: ALTERATIONS, edit: altered },
  'forgotten-placeholder': {
    planted: [
      'page 29: the onion was never exchanged for its fine picture and has 72 ppi',
      'pages 12 and 22, two openings of chapters, are exchanged',
    ],
    edit: inTurn(changePicture(29, 1, coarsen(72)), swapPages(12, 22)),
  },
};
