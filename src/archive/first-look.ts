import type { ColourMap, PageComparison, PairedPages } from '../comparing/index.ts';
import { fitBookConversion, pairPages } from '../comparing/index.ts';
import type { Finding, FindingKind, PageFacts, Tolerances } from '../model/index.ts';
import { isDrawn, viewOf } from './known-page.ts';
import type { KnownPage } from './known-page.ts';

/** So many pages at the front are looked at before the last page is drawn; each is compared again with the others. */
export const FIRST_PAGES = 4;

/** What only the whole book settles: which change of colours is its conversion. */
const OF_COLOUR: readonly FindingKind[] = ['picture-recoloured', 'picture-retouched', 'artwork-changed'];

/** Two pages that are the same one, both drawn. */
export interface DrawnPair {
  readonly pair: PairedPages;
  readonly dummy: PageFacts;
  readonly revision: PageFacts;
}

/** What a first look works with. */
export interface FirstLookOrder {
  /** Of both files; drawn ones take the place of described ones as they come. */
  readonly pages: { readonly dummy: readonly KnownPage[]; readonly revision: readonly KnownPage[] };
  readonly tolerances: Tolerances;
  /** Whether one of the two had to be drawn. */
  readonly isFresh: (pair: PairedPages) => boolean;
  /** Compares a pair before anything else that waits. */
  readonly compare: (pair: DrawnPair, conversion: ColourMap) => Promise<PageComparison>;
  readonly tell: (findings: readonly Finding[]) => void;
}

/**
 * A look at the front of the book, so that a fault there is told in the first second of a check: pages that show the same
 * in the same place are compared before the rest is drawn. What is told stands until the report: only findings that do not
 * hang on pages which are still to come. To be called when the pages at the front that have to be drawn were drawn.
 */
export function lookFirst({ pages, tolerances, isFresh, compare, tell }: FirstLookOrder): void {
  const [dummy, revision] = [pages.dummy.slice(0, FIRST_PAGES), pages.revision.slice(0, FIRST_PAGES)];
  const { pairs } = pairPages({ dummy: dummy.map(viewOf), revision: revision.map(viewOf) }, tolerances);
  const drawn = pairs.filter(isInItsPlace).flatMap((pair): DrawnPair[] => {
    const [one, other] = [dummy[pair.dummyPage - 1], revision[pair.revisionPage - 1]];
    return isDrawn(one) && isDrawn(other) ? [{ pair, dummy: one, revision: other }] : [];
  });
  const conversion = fitBookConversion(
    drawn.map((one) => ({ dummy: one.dummy.signature, revision: one.revision.signature })),
  );
  for (const one of drawn.filter(({ pair }) => isFresh(pair))) {
    // What goes wrong here goes wrong again when the page has its turn, and is told then.
    compare(one, conversion).then(
      ({ findings }) => tell(findings.filter(({ kind }) => !OF_COLOUR.includes(kind))),
      () => undefined,
    );
  }
}

/** It shows the same where it stood: not where something else may come to light that explains it. */
function isInItsPlace({ dummyPage, revisionPage, by, turnedDeg, emptied }: PairedPages): boolean {
  return dummyPage === revisionPage && by === 'likeness' && turnedDeg === 0 && !emptied;
}

/** Tells each finding once, also where a page is compared a second time. */
export function tellOnce(tell: (findings: readonly Finding[]) => void): (findings: readonly Finding[]) => void {
  const told = new Set<string>();
  return (findings) => {
    const fresh = findings.filter(({ kind, dummyPage, revisionPage, says }) => {
      const key = JSON.stringify([kind, dummyPage, revisionPage, says]);
      return !told.has(key) && told.add(key);
    });
    tell(fresh);
  };
}
