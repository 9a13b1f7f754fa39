import type { PageSignature } from '../../model/index.ts';
import type { Edge } from './edge.ts';
import { SAME_ANYWHERE } from './limits-of-likeness.ts';
import type { BookTraits, PageTraits } from './page-traits.ts';
import type { RepeatedPage } from './page-view.ts';
import { wordUnlikeness } from './word-traits.ts';

/** Levels of 255 by which cells of two pages of one file may differ that show the same: they were converted alike. */
const SAME_MEAN_STEP = 0.5;
const SAME_MOST_STEP = 4;

/**
 * Pages of the revision without a partner that show a page of the dummy a further time: by content, or because they
 * look exactly like another page of the revision that is paired. A blank page repeats nothing.
 */
export function repeatedPages({
  traits,
  paired,
  edges,
}: {
  readonly traits: BookTraits;
  readonly paired: readonly Edge[];
  readonly edges: readonly Edge[];
}): RepeatedPage[] {
  const partners = new Map(paired.map(({ dummy, revision }) => [dummy, revision]));
  const taken = new Set(paired.map(({ revision }) => revision));
  const byHash = new Map<string, Edge>();
  for (const edge of [...paired].sort((a, b) => b.revision - a.revision)) {
    for (const { contentHash } of [traits.dummy[edge.dummy]!.view, traits.revision[edge.revision]!.view]) {
      if (contentHash !== null) byHash.set(contentHash, edge);
    }
  }
  const alike = Map.groupBy(edges, ({ revision }) => revision);
  return traits.revision.flatMap((page) => {
    if (taken.has(page.index) || page.view.blank === true) return [];
    const twin = page.view.contentHash === null ? undefined : byHash.get(page.view.contentHash);
    const shown =
      twin ??
      (alike.get(page.index) ?? [])
        .filter(({ cost, dummy }) => cost <= SAME_ANYWHERE && partners.has(dummy))
        .sort((a, b) => a.cost - b.cost)
        .map(({ dummy, ...rest }) => ({ ...rest, dummy, revision: partners.get(dummy)! }))
        .find(({ revision }) => showTheSame(page, traits.revision[revision]!));
    if (shown === undefined) return [];
    return [{ revisionPage: page.index + 1, dummyPage: shown.dummy + 1, firstAt: shown.revision + 1 }];
  });
}

/**
 * Pairs less those whose revision page is a copy of another one that is paired with a page more alike: with a frame of
 * the same scene gone, its neighbour standing twice would pass for it.
 */
export function withoutCopies({
  traits,
  paired,
  edges,
}: {
  readonly traits: BookTraits;
  readonly paired: readonly Edge[];
  readonly edges: readonly Edge[];
}): Edge[] {
  const partners = new Map(paired.map(({ dummy, revision }) => [dummy, revision]));
  const alike = Map.groupBy(edges, ({ revision }) => revision);
  return paired.filter((pair) => {
    const better = (alike.get(pair.revision) ?? []).filter(
      ({ dummy, cost }) => cost < pair.cost && partners.has(dummy),
    );
    const page = traits.revision[pair.revision]!;
    return !better.some(({ dummy }) => showTheSame(page, traits.revision[partners.get(dummy)!]!));
  });
}

function showTheSame(one: PageTraits, other: PageTraits): boolean {
  if (one.view.signature === null || other.view.signature === null) return false;
  const words =
    one.words === null || other.words === null
      ? one.words === other.words
      : wordUnlikeness(one.words, other.words) < 0.02;
  return words && looksTheSame(one.view.signature, other.view.signature);
}

function looksTheSame(one: PageSignature, other: PageSignature): boolean {
  let sum = 0;
  let most = 0;
  for (let index = 0; index < one.cells.length; index++) {
    const step = Math.abs(one.cells[index]! - other.cells[index]!);
    sum += step;
    if (step > most) most = step;
  }
  return most <= SAME_MOST_STEP && sum <= SAME_MEAN_STEP * one.cells.length;
}
