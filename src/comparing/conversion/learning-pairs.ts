/** Pairs that a book's conversion is learned from at most: what they agree on, three hundred others say as well. */
const MOST_PAIRS = 32;
/** Multiples of it, less their whole parts, are spread evenly, however many they are (Weyl). */
const GOLDEN = (Math.sqrt(5) - 1) / 2;

interface Placed {
  readonly revisionPage: number;
}

/** Pairs in the order in which they are asked what a book's conversion is: the first few are spread over the book. */
export function learningOrder<Pair extends Placed>(pairs: readonly Pair[]): readonly Pair[] {
  return [...pairs].sort((one, other) => rankOf(one) - rankOf(other));
}

/**
 * The pairs that a book's conversion is learned from: all of a short book's, of a long one the first of the learning order.
 * Without one of them another takes its place, and the others stay.
 *
 * @returns in the given order
 */
export function learningPairs<Pair extends Placed>(pairs: readonly Pair[]): readonly Pair[] {
  const last = learningOrder(pairs)[MOST_PAIRS - 1];
  return last === undefined ? pairs : pairs.filter((pair) => rankOf(pair) <= rankOf(last));
}

function rankOf({ revisionPage }: Placed): number {
  return (revisionPage * GOLDEN) % 1;
}
