import { describe, turnSignature } from './descriptor.ts';
import type { Descriptor } from './descriptor.ts';
import type { PageView, PageViews, QuarterTurn } from './page-view.ts';
import { pictureTraits } from './picture-traits.ts';
import type { PictureTraits } from './picture-traits.ts';
import { wordTraits } from './word-traits.ts';
import type { WordTraits } from './word-traits.ts';

/** A page made ready for pairing. */
export interface PageTraits {
  readonly view: PageView;
  /** Index in its file, from 0. */
  readonly index: number;
  readonly words: WordTraits | null;
  readonly pictures: PictureTraits | null;
  /** Null where the page was not drawn. Computed when first asked for. */
  readonly descriptor: (turnedDeg?: QuarterTurn) => Descriptor | null;
}

/** All pages of both files; indices are places in the file. */
export interface BookTraits {
  readonly dummy: readonly PageTraits[];
  readonly revision: readonly PageTraits[];
}

/**
 * Makes both files ready. A page that was not drawn borrows what was drawn of a page with the same content hash: the
 * same marks look the same.
 */
export function bookTraits(views: PageViews): BookTraits {
  const drawn = new Map<string, PageView>();
  for (const view of [...views.dummy, ...views.revision]) {
    if (view.contentHash !== null && view.signature !== null) drawn.set(view.contentHash, view);
  }
  const dummy = views.dummy.map((view) => completed(view, drawn));
  const revision = views.revision.map((view) => completed(view, drawn));
  const [dummyWords = [], revisionWords = []] = wordTraits([
    dummy.map(({ words }) => words),
    revision.map(({ words }) => words),
  ]);
  const [dummyPictures, revisionPictures] = pictureTraits([
    dummy.map(({ pictures }) => pictures),
    revision.map(({ pictures }) => pictures),
  ]);
  return {
    dummy: dummy.map((view, index) => traitsOf(view, index, dummyWords[index], dummyPictures[index])),
    revision: revision.map((view, index) => traitsOf(view, index, revisionWords[index], revisionPictures[index])),
  };
}

function completed(view: PageView, drawn: ReadonlyMap<string, PageView>): PageView {
  if (view.contentHash === null || view.signature !== null) return view;
  const twin = drawn.get(view.contentHash);
  return twin === undefined ? view : { ...view, words: twin.words, signature: twin.signature, blank: twin.blank };
}

function traitsOf(
  view: PageView,
  index: number,
  words: WordTraits | null = null,
  pictures: PictureTraits | null = null,
): PageTraits {
  const { signature } = view;
  const known = new Map<QuarterTurn, Descriptor>();
  const descriptor = (turnedDeg: QuarterTurn = 0) => {
    if (signature === null) return null;
    const ready = known.get(turnedDeg) ?? describe(turnSignature(signature, turnedDeg));
    known.set(turnedDeg, ready);
    return ready;
  };
  return { view, index, words, pictures, descriptor };
}
