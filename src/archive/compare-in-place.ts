import { setImmediate as afterOthers } from 'node:timers/promises';
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
  /** Whether nothing is left to draw of a page of either file. */
  readonly isKnown: (pageNumber: number) => boolean;
}

/** What was found before the pages were paired; whoever pairs them has to see whether it holds. */
export interface FoundInPlace {
  /** By page. */
  readonly compared: ReadonlyMap<number, ComparedInPlace>;
  readonly learned: LearnedConversion | null;
}

/** A conversion and what it was learned from. */
export interface LearnedConversion {
  readonly conversion: ColourMap;
  readonly from: readonly SignaturePair[];
}

/** Of the pages that are looked at first so many have to show the same in the same place. */
const MOSTLY = 0.75;

/**
 * Draws the pages of two files that most likely follow each other in the same order, and compares each with the one in its
 * place as soon as both are drawn: rasters need not lie on disk until all are, which would take a tenth of the time. First
 * those are drawn that the book's conversion is learned from; where these do not stand in the same places, or the book is
 * no longer than that, pages are drawn apart from their likes.
 */
export async function compareInPlace(order: InPlaceOrder): Promise<FoundInPlace> {
  const { pages, drawApart, drawAndCompare, onDrawn } = order;
  const learned = await learnInPlace(order);
  const compared = new Map<number, ComparedInPlace>();
  const look = async (pageNumber: number): Promise<void> => {
    const isLeft = [pages.dummy, pages.revision].some((side) => !isDrawn(side[pageNumber - 1]));
    if (learned === null || !isLeft || !learned.isExpected(pageNumber)) return drawApart(pageNumber);
    const { conversion } = learned;
    const drawn = await drawAndCompare(pageNumber, conversion);
    if (drawn === null) return drawApart(pageNumber);
    pages.dummy[pageNumber - 1] = drawn.dummy;
    pages.revision[pageNumber - 1] = drawn.revision;
    compared.set(pageNumber, { conversion, comparison: drawn.comparison });
    onDrawn(pageNumber);
  };
  const { known = [], fresh = [] } = Object.groupBy(order.inPlace, (page) => (order.isKnown(page) ? 'known' : 'fresh'));
  // workers have their pages before this process is busy with what is known of the others
  const lookAtKnown = (): Promise<unknown> => Promise.all(known.map(look));
  await Promise.all([...fresh.map(look), afterOthers().then(lookAtKnown)]);
  return { compared, learned };
}

/** What the pages that are looked at first say of the others; the conversion is the book's if all are in their places. */
interface Learned extends LearnedConversion {
  /** Whether the nearest pages on either side that were looked at are in their places. */
  readonly isExpected: (pageNumber: number) => boolean;
}

/** Null where pages in the same places are not to be expected, or no page is left. */
async function learnInPlace({ inPlace, pages, tolerances, drawApart }: InPlaceOrder): Promise<Learned | null> {
  const waiting = learningOrder(inPlace.map((revisionPage) => ({ revisionPage })));
  const enough = learningPairs(waiting).length;
  let seen: InPlace = { shown: [], placed: new Set(), pairs: [] };
  for (;;) {
    const wanted = waiting.slice(0, seen.shown.length + enough - seen.pairs.length);
    if (wanted.length === waiting.length) return null;
    if (wanted.length === seen.shown.length) break;
    const shown = wanted.map(({ revisionPage }) => revisionPage).sort((one, other) => one - other);
    await Promise.all(shown.map(drawApart));
    seen = pairsInPlace(pages, shown, tolerances);
    if (seen.placed.size < shown.length * MOSTLY) return null;
  }
  const { shown, placed, pairs } = seen;
  const isExpected = (pageNumber: number): boolean => {
    const [before, after] = [shown.findLast((page) => page < pageNumber), shown.find((page) => page > pageNumber)];
    return [before, after].every((page) => page === undefined || placed.has(page));
  };
  const from = pairs.map(signaturesOf);
  return { conversion: fitBookConversion(from), from, isExpected };
}

/** Pages that were looked at, ascending: which are in their places, and which of these will be compared. */
interface InPlace {
  readonly shown: readonly number[];
  readonly placed: ReadonlySet<number>;
  readonly pairs: readonly { readonly dummy: PageFacts; readonly revision: PageFacts }[];
}

/**
 * Pairs some pages among themselves, as if they were the whole book.
 *
 * @param shown  their numbers, ascending; drawn of both files
 */
function pairsInPlace(pages: InPlaceOrder['pages'], shown: readonly number[], tolerances: Tolerances): InPlace {
  const viewsOf = (side: readonly KnownPage[]): PageView[] =>
    shown.map((pageNumber, at) => ({ ...viewOf(side[pageNumber - 1]!), pageNumber: at + 1 }));
  const pairing = pairPages({ dummy: viewsOf(pages.dummy), revision: viewsOf(pages.revision) }, tolerances);
  const inPlace = pairing.pairs.filter(({ dummyPage, revisionPage }) => dummyPage === revisionPage);
  const pairs = inPlace.filter(isToBeCompared).flatMap(({ revisionPage }) => {
    const page = shown[revisionPage - 1]!;
    const [dummy, revision] = [pages.dummy[page - 1], pages.revision[page - 1]];
    return isDrawn(dummy) && isDrawn(revision) ? [{ dummy, revision }] : [];
  });
  return { shown, placed: new Set(inPlace.map(({ revisionPage }) => shown[revisionPage - 1]!)), pairs };
}

/** Whether two pages that were paired are held against each other. */
export function isToBeCompared({ by, emptied, turnedDeg }: DrawnPair['pair']): boolean {
  return by !== 'content' && !emptied && turnedDeg === 0;
}

/** What a book's conversion is learned from. */
export type SignaturePair = Readonly<Record<'dummy' | 'revision', PageFacts['signature']>>;

/** What two pages say of it. */
export function signaturesOf({ dummy, revision }: Readonly<Record<keyof SignaturePair, PageFacts>>): SignaturePair {
  return { dummy: dummy.signature, revision: revision.signature };
}
