import type { Edge } from './edge.ts';
import { CLEAR_RATIO, CLEAR_STEP, EXCHANGE_CORRELATION, EXCHANGE_GAIN } from './limits-of-likeness.ts';
import { unlikeness } from './page-likeness.ts';
import type { BookTraits, PageTraits } from './page-traits.ts';

/** Two pairings of the same lookalikes, equally many pairs each: as the order has it, and as they are most alike. */
export interface Dispute {
  readonly traits: BookTraits;
  readonly order: readonly Edge[];
  readonly exchange: readonly Edge[];
}

/**
 * Whether lookalikes really changed places, rather than seem to by the noise of a conversion.
 *
 * Two frames of a scene share nearly all they show, and a conversion's misfit is far larger than their difference. But
 * that misfit is common to both: take the mean of the lookalikes away on either side, and what remains is what makes
 * each frame itself. If the remainders correlate across the files as the exchange has it, they changed places; noise
 * does not correlate, and then the order stands.
 */
export function isExchangeProven({ traits, order, exchange }: Dispute): boolean {
  if (gainOfWordsAndPictures({ traits, order, exchange }) > EXCHANGE_GAIN * order.length) return true;
  const sameDummy = samePages(order, exchange, ({ dummy }) => dummy);
  const sameRevision = samePages(order, exchange, ({ revision }) => revision);
  const turned = [...order, ...exchange].some(({ turnedDeg }) => turnedDeg !== 0);
  if (!sameDummy || !sameRevision || turned) return isClearlyCheaper(order, exchange);
  const before = remainders(order.map(({ dummy }) => traits.dummy[dummy]!));
  const after = remainders(order.map(({ revision }) => traits.revision[revision]!));
  if (before === null || after === null) return false;
  const scale = Math.sqrt(energyOf(before) * energyOf(after));
  if (scale === 0) return false;
  const along = (edges: readonly Edge[]) =>
    edges.reduce((sum, { dummy, revision }) => sum + product(before.get(dummy)!, after.get(revision)!), 0) / scale;
  return along(exchange) - along(order) > EXCHANGE_CORRELATION;
}

/** How much less unlike the exchange makes wording and picture data, each in its own measure. */
function gainOfWordsAndPictures({ traits, order, exchange }: Dispute): number {
  const sum = (edges: readonly Edge[]) =>
    edges.reduce((all, { dummy, revision }) => {
      const { words, pictures } = unlikeness(traits.dummy[dummy]!, traits.revision[revision]!);
      return all + Math.max(words ?? 0, pictures ?? 0);
    }, 0);
  return sum(order) - sum(exchange);
}

function samePages(one: readonly Edge[], other: readonly Edge[], endOf: (edge: Edge) => number): boolean {
  const ends = new Set(one.map(endOf));
  return other.every((edge) => ends.has(endOf(edge)));
}

function isClearlyCheaper(order: readonly Edge[], exchange: readonly Edge[]): boolean {
  const sum = (edges: readonly Edge[]) => edges.reduce((all, { cost }) => all + cost, 0);
  const [kept, given] = [sum(exchange), sum(order)];
  return given - kept > CLEAR_STEP && given > CLEAR_RATIO * kept;
}

/** Each page's three planes less the mean of all the pages, by the page's index. */
function remainders(pages: readonly PageTraits[]): ReadonlyMap<number, readonly Float32Array[]> | null {
  const found = new Map<number, readonly Float32Array[]>();
  for (const page of pages) {
    const descriptor = page.descriptor();
    if (descriptor === null) return null;
    found.set(
      page.index,
      descriptor.planes.map((plane) => Float32Array.from(plane)),
    );
  }
  for (const plane of [0, 1, 2]) {
    const planes = [...found.values()].map((all) => all[plane]!);
    const cells = planes[0]?.length ?? 0;
    for (let cell = 0; cell < cells; cell++) {
      const mean = planes.reduce((sum, values) => sum + values[cell]!, 0) / planes.length;
      for (const values of planes) values[cell]! -= mean;
    }
  }
  return found;
}

function energyOf(pages: ReadonlyMap<number, readonly Float32Array[]>): number {
  return [...pages.values()].reduce((sum, planes) => sum + product(planes, planes), 0);
}

function product(one: readonly Float32Array[], other: readonly Float32Array[]): number {
  return one.reduce(
    (sum, plane, index) => sum + plane.reduce((inner, value, cell) => inner + value * other[index]![cell]!, 0),
    0,
  );
}
