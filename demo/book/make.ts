import { join } from 'node:path';
import { winterBook } from './a-winters-round.ts';
import { inTurn, movePage, swapPages, unaltered } from './edits/pages.ts';
import type { Edit } from './edits/pages.ts';
import { changePicture, coarsen, dropPicture, replaceSource, shiftContent, treatPicture } from './edits/pictures.ts';
import { changeArtwork, rewrite } from './edits/type-and-artwork.ts';
import type { Workshop } from './library.ts';
import { PHOTOGRAPHS } from './photographs.ts';
import { DUMMY, FINAL } from './preparation.ts';
import { renderBook } from './render.ts';

/** A file of the demonstration book, and what was done to it on purpose. */
export interface MadeFile {
  readonly path: string;
  readonly planted: readonly string[];
}

const workshopIn = (folder: string): Workshop => ({ library: PHOTOGRAPHS, keptFolder: join(folder, 'kept') });

/** The dummy: RGB at 100 ppi, the file that was signed. */
export async function makeDummy(folder: string): Promise<MadeFile> {
  const path = join(folder, 'dummy.pdf');
  await renderBook(winterBook(), DUMMY, workshopIn(folder), path);
  return { path, planted: [] };
}

/** The final: process inks at 300 ppi, nothing else changed. */
export async function makeFinal(folder: string): Promise<MadeFile> {
  const path = join(folder, 'final.pdf');
  await renderBook(winterBook(), FINAL, workshopIn(folder), path);
  return { path, planted: [] };
}

interface Revision {
  readonly planted: readonly string[];
  readonly edit: Edit;
}

const REVISIONS: Readonly<Record<string, Revision>> = {
  'slipped-crop': {
    planted: ['page 23: the house stands 2.0 mm further left and 1.0 mm lower in its frame'],
    edit: changePicture(23, 1, shiftContent(-2, 1)),
  },
  'carried-page': {
    planted: ['page 30 (thistle) is carried to position 4', 'page 16: the ring of the wing is gone'],
    edit: inTurn(dropPicture(16, 2), movePage(30, 4)),
  },
  'author-and-printer': {
    planted: [
      'page 7: “winters” lost its s',
      'page 19: the second frame of the harbour is the first one, shown again',
      'page 20: the top of the mast is brushed away',
      'page 9: the way of the lantern takes another path on the map',
      'page 12: Málaholt lost its accent',
    ],
    edit: inTurn(
      rewrite(7, 'eleven winters', 'eleven winter'),
      changePicture(19, 1, replaceSource('harbour')),
      changePicture(20, 1, treatPicture({ kind: 'smoothed', box: { x: 0.545, y: 0.14, width: 0.07, height: 0.07 } })),
      changeArtwork(9, 'path', 10, (path) => ({ ...path, d: path.d.replace('C 112 192 84 206', 'C 116 174 88 172') })),
      rewrite(12, 'Málaholt', 'Malaholt'),
    ),
  },
  'forgotten-placeholder': {
    planted: [
      'page 29: the onion was never exchanged for its fine picture and has 72 ppi',
      'pages 12 and 22, two openings of chapters, are exchanged',
    ],
    edit: inTurn(changePicture(29, 1, coarsen(72)), swapPages(12, 22)),
  },
};

export const REVISION_NAMES = Object.keys(REVISIONS);

/**
 * A later file with faults planted in it.
 *
 * @throws {Error} a name that is not in `REVISION_NAMES`
 */
export async function makeRevision(folder: string, name: string): Promise<MadeFile> {
  const revision = REVISIONS[name];
  if (revision === undefined) throw new Error(`no revision is called ${name}`);
  const path = join(folder, `revision-${name}.pdf`);
  await renderBook(revision.edit(unaltered(winterBook())).book, FINAL, workshopIn(folder), path);
  return { path, planted: revision.planted };
}
