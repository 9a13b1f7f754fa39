import type { PageTraits } from './page-traits.ts';

/** A word or picture on more pages than this points nowhere. */
const POINTS_NOWHERE = 6;
/** Pages that a page's words and pictures point to, at most. */
const MOST_POINTED = 4;

/**
 * Pairs of places that rare words or shared picture data point to.
 *
 * @returns for each place in `dummy` up to four in `revision`, those that most points to first
 */
export function pointedPages(dummy: readonly PageTraits[], revision: readonly PageTraits[]): number[][] {
  const ofTerms = termHolders(revision);
  const ofPictures = pictureHolders(revision);
  const votes = new Float64Array(revision.length);
  return dummy.map(({ words, pictures }) => {
    const named: number[] = [];
    const vote = (places: Int32Array | readonly number[], from: number, to: number) => {
      for (let at = from; at < to && to - from <= POINTS_NOWHERE; at++) {
        const place = places[at]!;
        if (votes[place] === 0) named.push(place);
        votes[place]! += 1 / (to - from);
      }
    };
    for (const term of words?.terms ?? []) vote(ofTerms.places, ofTerms.starts[term]!, ofTerms.starts[term + 1]!);
    for (const hash of pictures?.areas.keys() ?? []) {
      const places = ofPictures.get(hash) ?? [];
      vote(places, 0, places.length);
    }
    const best = named.toSorted((a, b) => votes[b]! - votes[a]!).slice(0, MOST_POINTED);
    for (const place of named) votes[place] = 0;
    return best;
  });
}

/** The places of the pages that have a term lie side by side, rising: those of term t from starts[t] to starts[t + 1]. */
interface TermHolders {
  readonly starts: Int32Array;
  readonly places: Int32Array;
}

function termHolders(pages: readonly PageTraits[]): TermHolders {
  const starts = new Int32Array((pages.find(({ words }) => words !== null)?.words?.marks.length ?? 0) + 1);
  for (const { words } of pages) for (const term of words?.terms ?? []) starts[term + 1]!++;
  for (let term = 1; term < starts.length; term++) starts[term]! += starts[term - 1]!;
  const filled = starts.slice();
  const places = new Int32Array(starts.at(-1)!);
  pages.forEach(({ words }, place) => {
    for (const term of words?.terms ?? []) places[filled[term]!++] = place;
  });
  return { starts, places };
}

function pictureHolders(pages: readonly PageTraits[]): ReadonlyMap<string, readonly number[]> {
  const holders = new Map<string, number[]>();
  pages.forEach(({ pictures }, place) => {
    for (const hash of pictures?.areas.keys() ?? []) {
      const known = holders.get(hash);
      if (known === undefined) holders.set(hash, [place]);
      else known.push(place);
    }
  });
  return holders;
}
