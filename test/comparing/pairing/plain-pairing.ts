import { coarseDistance } from '../../../src/comparing/pairing/descriptor.ts';
import type { Descriptor } from '../../../src/comparing/pairing/descriptor.ts';
import type { PageSignature, Word } from '../../../src/model/index.ts';

/** The plain twins of what pairing does quickly: from the definition, a number at a time. */

/** A signature's planes less their means, light, blue, red and bend, each rounded to 32 bits. */
export function plainPlanes({ cells }: PageSignature): { planes: number[][]; means: number[] } {
  const planes: number[][] = [[], [], [], []];
  for (let at = 0; at < cells.length; at += 3) {
    const [r, g, b] = [cells[at]!, cells[at + 1]!, cells[at + 2]!];
    const y = 0.299 * r + 0.587 * g + 0.114 * b;
    [y, 0.564 * (b - y), 0.713 * (r - y), (y * y) / 255].forEach((value, plane) =>
      planes[plane]!.push(Math.fround(value)),
    );
  }
  const means = planes.map((plane) => plane.reduce((sum, value) => sum + value, 0) / plane.length);
  return { planes: planes.map((plane, at) => plane.map((value) => Math.fround(value - means[at]!))), means };
}

export function plainProduct(one: readonly number[], other: readonly number[]): number {
  return one.reduce((sum, value, at) => sum + value * other[at]!, 0);
}

/** Sums of squares of cells over the side, rounded to 32 bits at each cell; `side` is 32 cells. */
export function plainShrunk(plane: readonly number[], factor: number, scale: number): number[] {
  const across = 32 / factor;
  const shrunk = new Array<number>(across * across).fill(0);
  plane.forEach((value, cell) => {
    const to = Math.floor(cell / 32 / factor) * across + Math.floor((cell % 32) / factor);
    shrunk[to] = Math.fround(shrunk[to]! + (value * scale) / factor);
  });
  return shrunk;
}

/** For each page of `ones` the places of the nearest of `others`: by all distances, sorted. */
export function plainNearest(
  ones: readonly (Descriptor | null)[],
  others: readonly (Descriptor | null)[],
  most: number,
): number[][] {
  return ones.map((one, place) =>
    others
      .flatMap((other, to) => {
        const distance = one === null || other === null ? Infinity : coarseDistance(one, other);
        return distance < 0.8 ? [{ to, distance: distance + Math.abs(place - to) * 1e-7 }] : [];
      })
      .sort((a, b) => a.distance - b.distance || a.to - b.to)
      .slice(0, most)
      .map(({ to }) => to),
  );
}

/** A page's terms as text: its words, and each two neighbours with a space between. */
export function plainTerms(words: readonly Word[] | null): { count: number; terms: ReadonlySet<string> } {
  const plain = (words ?? [])
    .map(({ text }) =>
      text
        .normalize('NFKC')
        .toLowerCase()
        .replace(/^[^\p{L}\p{N}]+|[^\p{L}\p{N}]+$/gu, ''),
    )
    .filter((text) => text !== '' && !/^\p{N}{1,4}$/u.test(text));
  const pairs = plain.slice(1).map((text, index) => `${plain[index]} ${text}`);
  return { count: plain.length, terms: new Set([...plain, ...pairs]) };
}

/** How unlike the wording of every page of the first file is to every page of the second; null where one has no words. */
export function plainWordUnlikeness(files: readonly [readonly Word[][], readonly Word[][]]): (number | null)[][] {
  const pages = files.map((file) => file.map(plainTerms));
  const most = Math.max(1, files[0].length, files[1].length);
  const standsOn = (term: string) =>
    Math.max(...pages.map((file) => file.filter(({ terms }) => terms.has(term)).length));
  const weightOf = (term: string) => Math.log(1 + most / standsOn(term));
  const sum = (terms: Iterable<string>) => [...terms].reduce((all, term) => all + weightOf(term), 0);
  return pages[0]!.map((one) =>
    pages[1]!.map((other) => {
      if (one.count === 0 || other.count === 0) return null;
      const [small, large] = one.terms.size <= other.terms.size ? [one, other] : [other, one];
      const common = sum([...small.terms].filter((term) => large.terms.has(term)));
      const all = sum(one.terms) + sum(other.terms) - common;
      return all > 0 ? 1 - common / all : 0;
    }),
  );
}

/** Up to four pages that a page's terms and pictures point to: one vote a term, shared by the up to six pages that have it. */
export function plainPointed(
  dummy: readonly (readonly string[])[],
  revision: readonly (readonly string[])[],
): number[][] {
  return dummy.map((pointers) => {
    const votes = new Map<number, number>();
    for (const pointer of pointers) {
      const places = revision.flatMap((held, place) => (held.includes(pointer) ? [place] : []));
      if (places.length > 6) continue;
      for (const place of places) votes.set(place, (votes.get(place) ?? 0) + 1 / places.length);
    }
    return [...votes]
      .sort((a, b) => b[1] - a[1])
      .slice(0, 4)
      .map(([place]) => place);
  });
}
