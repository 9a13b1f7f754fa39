import { Refusal } from '../../model/index.ts';
import { dummyToCompareWith } from '../checking/dummy-to-compare-with.ts';
import type { FileKind, SentFile, Tables } from '../catalogue/index.ts';

/**
 * What pages are laid over when they are supplied again: the latest file of a part that stands for its latest state. Of
 * pages for the plates, a plates input or a revision, whichever came last; of a revision, the latest revision; before
 * there is any, the dummy. A file whose reading failed is passed over.
 *
 * @throws {Refusal} out-of-step: nothing was sent yet
 */
export async function fileBelow(tables: Tables, partId: string, kind: FileKind): Promise<SentFile> {
  const kinds: readonly FileKind[] = kind === 'plates-input' ? ['plates-input', 'revision'] : ['revision'];
  const files = await tables.files.ofPart(partId);
  for (const file of files.toReversed()) {
    if (kinds.includes(file.kind) && (await isUsable(tables, file))) return file;
  }
  const dummy = await dummyToCompareWith(tables, partId);
  if (dummy !== null) return dummy;
  // Sent a moment ago and not read yet.
  for (const file of files.toReversed()) if (file.kind === 'dummy' && (await isUsable(tables, file))) return file;
  throw new Refusal('out-of-step', {
    what: 'pages that are supplied again',
    named: 'the latest revision',
    current: 'a part without any file',
  });
}

async function isUsable(tables: Tables, file: SentFile): Promise<boolean> {
  return (await tables.jobs.byKey(readKey(file.id)))?.state !== 'failed';
}

/** The key of the job that reads a file. */
export function readKey(fileId: string): string {
  return `read/${fileId}`;
}
