import { unaltered } from '../../../demo/book/edits/pages.ts';
import { ghostscript } from '../material/outside-tools.ts';
import { bookFile, processedFile } from '../material/store.ts';
import type { Store } from '../material/store.ts';
import type { FilePair } from '../silent/silent-case.ts';
import { openExcerpt } from './excerpts.ts';
import type { PlantedFault } from './planted-fault.ts';

/** The excerpt's dummy, and the revision with the fault in it. */
export async function makePlanted(fault: PlantedFault, store: Store): Promise<FilePair> {
  const { book, spec, dummy, revision } = openExcerpt(fault.excerpt);
  const altered = fault.edit(unaltered(spec));
  const dummyPath = await bookFile(store, book, spec, dummy);
  let revisionPath = await bookFile(store, book, altered.book, revision);
  if (fault.after === 'type outlined') {
    const flags = ['-dNoOutputFonts', '-dPassThroughJPEGImages=true'];
    revisionPath = await processedFile(store, revisionPath, ['outlined', ...flags], (source, target) =>
      ghostscript(source, target, flags),
    );
  }
  return { dummyPath, revisionPath };
}

/** For each page of the revision the dummy page it began as; null for what the dummy does not have. */
export function originsOf(fault: PlantedFault): readonly (number | null)[] {
  return fault.edit(unaltered(openExcerpt(fault.excerpt).spec)).origins;
}
