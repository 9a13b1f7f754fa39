import type { ColourMap, PageComparison, PageView } from '../comparing/index.ts';
import { fitBookConversion, learningOrder, learningPairs, pairPages } from '../comparing/index.ts';
import type { PageFacts, Tolerances } from '../model/index.ts';
import type { DrawnPair } from './first-look.ts';
import { isDrawn, viewOf } from './known-page.ts';
import type { KnownPage } from './known-page.ts';

/** A page that was compared with the one in its place before the book's pages were paired, and by which conversion. */
export interface ComparedInPlace {
  readonly conversion: ColourMap;
  readonly comparison: PageComparison;
}

/** Two pages that were drawn, and how they differ. */
export interface PagesCompared {
  readonly dummy: PageFacts;
  readonly revision: PageFacts;
  readonly comparison: PageComparison;
}

/** What comparing in place works with. */
export interface InPlaceOrder {
  /** Pages that both files have, and that have to be drawn of both. */
  readonly inPlace: readonly number[];
  /** Of both files; drawn ones take the place of described ones as they come. */
  readonly pages: Readonly<Record<'dummy' | 'revision', KnownPage[]>>;
  readonly tolerances: Tolerances;
  /** Draws a page of both files, one apart from the other, and puts it in its place; once, however often it is asked. */
  readonly drawApart: (pageNumber: number) => Promise<void>;
  /** Draws and compares a page of both files in one go; null where that cannot be done, or need not. */
  readonly drawAndCompare: (pageNumber: number, conversion: ColourMap) => Promise<PagesCompared | null>;
  readonly onDrawn: (pageNumber: number) => void;
}

/** Of the pages that are looked at first so many have to show the same in the same place. */
const MOSTLY = 0.75;

/**
 * Draws the pages of two files that most likely follow each other in the same order, and compares each with the one in its
 * place as soon as both are drawn: rasters need not lie on disk until all are, which would take a tenth of the time. First
 * those are drawn that the book's conversion is learned from; where these do not stand in the same places, or the book is
 * no longer than that, every page is drawn apart from its like.
 *
 * @returns what was compared, by page; whoever pairs the pages afterwards has to see whether it holds
 */
export async function compareInPlace(order: InPlaceOrder): Promise<ReadonlyMap<number, ComparedInPlace>> {
  const { pages, drawApart, drawAndCompare, onDrawn } = order;
  const waiting = learningOrder(order.inPlace.map((revisionPage) => ({ revisionPage })));
  const conversion = await learnInPlace(order, waiting);
  const compared = new Map<number, ComparedInPlace>();
  await Promise.all(
    order.inPlace.map(async (pageNumber) => {
      const isLeft = [pages.dummy, pages.revision].some((side) => !isDrawn(side[pageNumber - 1]));
      const drawn = conversion !== null && isLeft ? await drawAndCompare(pageNumber, conversion) : null;
      if (drawn === null || conversion === null) return drawApart(pageNumber);
      pages.dummy[pageNumber - 1] = drawn.dummy;
      pages.revision[pageNumber - 1] = drawn.revision;
      compared.set(pageNumber, { conversion, comparison: drawn.comparison });
      onDrawn(pageNumber);
    }),
  );
  return compared;
}

/** The conversion as it will be learned if all pages are in their places; null where that is not to be expected, or no page is left. */
async function learnInPlace(
  { pages, tolerances, drawApart }: InPlaceOrder,
  waiting: readonly { readonly revisionPage: number }[],
): Promise<ColourMap | null> {
  let pairs: ReturnType<typeof pairsInPlace> = [];
  for (let drawn = 0; ;) {
    const wanted = waiting.slice(0, drawn + learningPairs(waiting).length - pairs.length);
    if (wanted.length === waiting.length) return null;
    if (wanted.length === drawn) break;
    await Promise.all(wanted.map(({ revisionPage }) => drawApart(revisionPage)));
    drawn = wanted.length;
    const shown = wanted.map(({ revisionPage }) => revisionPage).sort((one, other) => one - other);
    pairs = pairsInPlace(pages, shown, tolerances);
    if (pairs.length < drawn * MOSTLY) return null;
  }
  return fitBookConversion(pairs.map(signaturesOf));
}

/**
 * Of some pages those that will be compared, if all stand where they should: paired among themselves, as if they were the
 * whole book.
 *
 * @param shown  their numbers, ascending; drawn of both files
 */
function pairsInPlace(
  pages: InPlaceOrder['pages'],
  shown: readonly number[],
  tolerances: Tolerances,
): readonly { readonly dummy: PageFacts; readonly revision: PageFacts; readonly revisionPage: number }[] {
  const viewsOf = (side: readonly KnownPage[]): PageView[] =>
    shown.map((pageNumber, at) => ({ ...viewOf(side[pageNumber - 1]!), pageNumber: at + 1 }));
  const { pairs } = pairPages({ dummy: viewsOf(pages.dummy), revision: viewsOf(pages.revision) }, tolerances);
  return pairs.flatMap((pair) => {
    const revisionPage = shown[pair.revisionPage - 1]!;
    const [dummy, revision] = [pages.dummy[revisionPage - 1], pages.revision[revisionPage - 1]];
    const isInPlace = pair.dummyPage === pair.revisionPage && isToBeCompared(pair);
    return isInPlace && isDrawn(dummy) && isDrawn(revision) ? [{ dummy, revision, revisionPage }] : [];
  });
}

/** Whether two pages that were paired are held against each other. */
export function isToBeCompared({ by, emptied, turnedDeg }: DrawnPair['pair']): boolean {
  return by !== 'content' && !emptied && turnedDeg === 0;
}

/** What a book's conversion is learned from. */
export function signaturesOf({ dummy, revision }: { readonly dummy: PageFacts; readonly revision: PageFacts }) {
  return { dummy: dummy.signature, revision: revision.signature };
}
