import { ALTERED_PAGES, makeDummy, makeFinal, makeRevision, pagesIn } from '../book/make.ts';
import type { Edition, MadeFile } from '../book/make.ts';
import type { StoryBooks } from './stage.ts';

/** A file of the story. */
export type BookName = Exclude<keyof StoryBooks, 'authorsPages'>;

const MAKING: Readonly<Record<BookName, (folder: string, edition: Edition) => Promise<MadeFile>>> = {
  dummy: makeDummy,
  prepared: makeFinal,
  corrected: (folder, edition) => makeRevision(folder, 'author-and-printer', edition),
  slipped: (folder, edition) => makeRevision(folder, 'slipped-crop', edition),
  disordered: (folder, edition) => makeRevision(folder, 'carried-page', edition),
  mended: (folder, edition) => makeRevision(folder, 'mended', edition),
};

/** The files in the order of the story. */
export const BOOK_NAMES = Object.keys(MAKING) as readonly BookName[];

/** Makes a file of the story. */
export function makeBook(name: BookName, folder: string, edition: Edition): Promise<MadeFile> {
  return MAKING[name](folder, edition);
}

/** Makes the files that are needed, one after the other; the others have no path. */
export async function makeBooks(needed: ReadonlySet<BookName>, folder: string, edition: Edition): Promise<StoryBooks> {
  const paths = { dummy: '', prepared: '', corrected: '', slipped: '', disordered: '', mended: '' };
  for (const name of BOOK_NAMES) {
    if (needed.has(name)) paths[name] = (await makeBook(name, folder, edition)).path;
  }
  return { ...paths, authorsPages: pagesIn(edition, ALTERED_PAGES) };
}
