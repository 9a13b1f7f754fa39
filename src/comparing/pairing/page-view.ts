import type { Mm, PageSignature, PlacedPicture, Word } from '../../model/index.ts';

/**
 * What pairing sees of a page. `words`, `signature` and `blank` are null where the page was not drawn (`pagesToDraw`)
 * or could not be read.
 */
export interface PageView {
  /** From 1, in file order, without gaps. */
  readonly pageNumber: number;
  /** Null where the page could not be read. */
  readonly contentHash: string | null;
  readonly trimmed: { readonly width: Mm; readonly height: Mm } | null;
  readonly pictures: readonly PlacedPicture[];
  readonly words: readonly Word[] | null;
  readonly signature: PageSignature | null;
  readonly blank: boolean | null;
}

/** The pages of both files, each in file order. */
export interface PageViews {
  readonly dummy: readonly PageView[];
  readonly revision: readonly PageView[];
}

/** Clockwise, how the revision's page is turned against the dummy's. */
export type QuarterTurn = 0 | 90 | 180 | 270;

/** A page of the dummy and the page of the revision that is it. */
export interface PairedPages {
  readonly dummyPage: number;
  readonly revisionPage: number;
  /** Equal content hash; or it shows the same; or it stands where the dummy's page stood and nothing shows the same. */
  readonly by: 'content' | 'likeness' | 'place';
  readonly turnedDeg: QuarterTurn;
  /** Blank paper in the revision, not blank in the dummy. */
  readonly emptied: boolean;
}

/** A further time that a page of the dummy shows in the revision; `firstAt` is the revision's page that it is paired with. */
export interface RepeatedPage {
  readonly revisionPage: number;
  readonly dummyPage: number;
  readonly firstAt: number;
}

/** A page out of the dummy's order: where it stood in the dummy and where it stands in the revision. */
export interface MovedPage {
  readonly dummyPage: number;
  readonly revisionPage: number;
  readonly fromPosition: number;
  readonly toPosition: number;
}

/** What became of every page: each page of the dummy is paired or missing, each of the revision paired, added or repeated. */
export interface Pairing {
  /** In revision order. */
  readonly pairs: readonly PairedPages[];
  readonly missing: readonly number[];
  readonly added: readonly number[];
  readonly repeated: readonly RepeatedPage[];
  /** A smallest set of pairs that explains the order, in revision order. */
  readonly moved: readonly MovedPage[];
}
