import { join } from 'node:path';
import { winterBook } from './a-winters-round.ts';
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
