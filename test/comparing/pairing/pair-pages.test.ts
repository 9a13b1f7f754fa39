import { describe, expect, test } from 'vitest';
import { pairPages } from '../../../src/comparing/pairing/pair-pages.ts';
import type { PageView, Pairing } from '../../../src/comparing/pairing/page-view.ts';
import { turnSignature } from '../../../src/comparing/pairing/descriptor.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import {
  chanceFrom,
  convert,
  evenSignature,
  fileOf,
  pageView,
  pictureSignature,
  placedPicture,
  proseOf,
  recolour,
  signatureOf,
  typeSignature,
  wordsOf,
} from './made-up-pages.ts';

const pair = (dummy: readonly PageView[], revision: readonly PageView[]): Pairing =>
  pairPages({ dummy: fileOf(dummy), revision: fileOf(revision) }, DEFAULT_TOLERANCES);

/** [dummy page, revision page, how]. */
const told = ({ pairs }: Pairing) => pairs.map(({ dummyPage, revisionPage, by }) => [dummyPage, revisionPage, by]);
const nothingElse = { missing: [], added: [], repeated: [], moved: [] };
const rest = ({ missing, added, repeated, moved }: Pairing) => ({ missing, added, repeated, moved });

const photo = (seed: number) => pageView({ signature: pictureSignature(seed) });
const converted = (page: PageView, seed = 1) =>
  pageView({ ...page, contentHash: `again ${page.contentHash} ${seed}`, signature: convert(page.signature!, seed) });
const paper = (hash: string) => pageView({ contentHash: hash, signature: evenSignature(255, 255, 255), blank: true });

describe('pages of equal content', () => {
  test('a file re-saved pairs page by page without a page drawn', () => {
    const pages = ['a', 'b', 'c'].map((contentHash) => pageView({ contentHash, words: null, blank: null }));
    const pairing = pair(pages, pages);
    expect(told(pairing)).toEqual([1, 2, 3].map((page) => [page, page, 'content']));
    expect(rest(pairing)).toEqual(nothingElse);
  });

  test('a page carried from 30 to 4 is one page moved, not 27', () => {
    const pages = Array.from({ length: 32 }, (_, index) => pageView({ contentHash: `p${index}`, words: null }));
    const carried = [...pages.slice(0, 3), pages[29]!, ...pages.slice(3, 29), ...pages.slice(30)];
    expect(pair(pages, carried).moved).toEqual([{ dummyPage: 30, revisionPage: 4, fromPosition: 30, toPosition: 4 }]);
  });

  test('of two pages that changed places the later one is the moved one', () => {
    const pages = ['a', 'b', 'c', 'd'].map((contentHash) => pageView({ contentHash, words: null }));
    const [a, b, c, d] = pages as [PageView, PageView, PageView, PageView];
    expect(pair(pages, [a, c, b, d]).moved).toEqual([
      { dummyPage: 3, revisionPage: 2, fromPosition: 3, toPosition: 2 },
    ]);
  });

  test('the same page twice in the dummy keeps both places when a page between is carried away', () => {
    const [a, x, b] = ['a', 'x', 'b'].map((contentHash) => pageView({ contentHash, words: null }));
    expect(told(pair([a!, x!, b!, x!], [x!, a!, x!, b!]))).toEqual([
      [4, 1, 'content'],
      [1, 2, 'content'],
      [2, 3, 'content'],
      [3, 4, 'content'],
    ]);
  });

  test('a page that stands a second time, next to itself or far away, is repeated and the first one is kept', () => {
    const pages = ['a', 'b', 'c', 'd', 'e'].map((contentHash) => pageView({ contentHash, words: null }));
    const [a, b, c, d, e] = pages as [PageView, PageView, PageView, PageView, PageView];
    const beside = pair(pages, [a, b, b, c, d, e]);
    expect(rest(beside)).toEqual({ ...nothingElse, repeated: [{ revisionPage: 3, dummyPage: 2, firstAt: 2 }] });
    const far = pair(pages, [a, b, c, d, a, e]);
    expect(rest(far)).toEqual({ ...nothingElse, repeated: [{ revisionPage: 5, dummyPage: 1, firstAt: 1 }] });
    const instead = pair(pages, [a, a, c, d, e]);
    expect(rest(instead)).toEqual({
      ...nothingElse,
      missing: [2],
      repeated: [{ revisionPage: 2, dummyPage: 1, firstAt: 1 }],
    });
  });
});

describe('blank pages', () => {
  test('pair by their place although every blank page equals every other', () => {
    const [a, b, c] = [photo(1), photo(2), photo(3)];
    const dummy = [paper('w'), a, paper('w'), b, c, paper('w')];
    const revision = [paper('v'), converted(a), paper('v'), converted(b), converted(c), paper('v')];
    const pairing = pair(dummy, revision);
    expect(told(pairing)).toEqual([
      [1, 1, 'place'],
      [2, 2, 'likeness'],
      [3, 3, 'place'],
      [4, 4, 'likeness'],
      [5, 5, 'likeness'],
      [6, 6, 'place'],
    ]);
    expect(rest(pairing)).toEqual(nothingElse);
  });

  test('a page emptied beside a blank page is told from it', () => {
    const [a, b] = [photo(1), photo(2)];
    const pairing = pair([a, paper('w'), b], [paper('w'), paper('w'), converted(b)]);
    expect(pairing.pairs.map(({ dummyPage, revisionPage, emptied }) => [dummyPage, revisionPage, emptied])).toEqual([
      [1, 1, true],
      [2, 2, false],
      [3, 3, false],
    ]);
    expect(rest(pairing)).toEqual(nothingElse);
  });

  test('a blank page more than the dummy has is added, not repeated', () => {
    const [a, b] = [photo(1), photo(2)];
    const pairing = pair([paper('w'), a, b], [paper('w'), converted(a), paper('w'), converted(b)]);
    expect(rest(pairing)).toEqual({ ...nothingElse, added: [3] });
  });
});

describe('pages that were converted', () => {
  test('missing, added and moved pages together are told apart', () => {
    const pages = Array.from({ length: 12 }, (_, index) => photo(index));
    const kept = [0, 1, 7, 2, 4, 5, 6, 8, 9, 10, 11].map((index) => converted(pages[index]!, index));
    const pairing = pair(pages, [...kept.slice(0, 9), photo(99), ...kept.slice(9)]);
    expect(rest(pairing)).toEqual({
      missing: [4],
      added: [10],
      repeated: [],
      moved: [{ dummyPage: 8, revisionPage: 3, fromPosition: 8, toPosition: 3 }],
    });
  });

  test('a converted page that stands twice is repeated', () => {
    const pages = [photo(1), photo(2), photo(3), photo(4)];
    const [a, b, c, d] = pages.map((page) => converted(page)) as [PageView, PageView, PageView, PageView];
    const again = { ...b, contentHash: 'written anew' };
    expect(rest(pair(pages, [a, b, c, again, d]))).toEqual({
      ...nothingElse,
      repeated: [{ revisionPage: 4, dummyPage: 2, firstAt: 2 }],
    });
  });

  test('pages of type, which look alike, are told apart by their words', () => {
    const page = (seed: number) => pageView({ signature: typeSignature(1), words: proseOf(seed, 200) });
    const pages = [page(1), page(2), page(3), page(4)];
    const [a, b, c, d] = pages.map((one) => converted(one)) as [PageView, PageView, PageView, PageView];
    expect(pair(pages, [a, c, d, b]).moved).toEqual([
      { dummyPage: 2, revisionPage: 4, fromPosition: 2, toPosition: 4 },
    ]);
  });

  test('pages of type outlined to curves are told apart by the ends of their paragraphs', () => {
    const pages = [1, 2, 3, 4].map((seed) => pageView({ signature: typeSignature(seed), words: proseOf(seed, 200) }));
    const outlined = pages.map((page) => pageView({ ...converted(page), words: [] }));
    const [a, b, c, d] = outlined as [PageView, PageView, PageView, PageView];
    expect(pair(pages, [d, a, b, c]).moved).toEqual([
      { dummyPage: 4, revisionPage: 1, fromPosition: 4, toPosition: 1 },
    ]);
  });

  test('one picture at two sizes keeps both its pages', () => {
    const picture = pictureSignature(12);
    const small = pageView({
      signature: signatureOf((x, y) => {
        if (x < 8 || x >= 24 || y < 8 || y >= 24) return [255, 255, 255];
        return [0, 1, 2].map((channel) => picture.cells[3 * (2 * (y - 8) * 32 + 2 * (x - 8)) + channel]!);
      }),
      pictures: [placedPicture('one', { x: 60, y: 75, width: 120, height: 150 })],
    });
    const large = pageView({
      signature: picture,
      pictures: [placedPicture('one', { x: 0, y: 0, width: 240, height: 300 })],
    });
    const pages = [photo(1), small, photo(2), large];
    const [a, small2, b, large2] = pages.map((page) => converted(page)) as [PageView, PageView, PageView, PageView];
    expect(rest(pair(pages, [a, small2, b, large2]))).toEqual(nothingElse);
    expect(pair(pages, [a, large2, b, small2]).pairs.map(({ dummyPage }) => dummyPage)).toEqual([1, 4, 3, 2]);
  });

  test('a greyscale version next to its colour original keeps its place, and is seen when both change places', () => {
    const colour = photo(5);
    const grey = pageView({
      signature: recolour(colour.signature!, ([r, g, b]) => Array<number>(3).fill(0.3 * r + 0.59 * g + 0.11 * b)),
    });
    const [a, z] = [photo(1), photo(2)];
    const after = [a, colour, grey, z].map((page, seed) => converted(page, seed));
    const [a2, colour2, grey2, z2] = after as [PageView, PageView, PageView, PageView];
    expect(rest(pair([a, colour, grey, z], [a2, colour2, grey2, z2]))).toEqual(nothingElse);
    expect(pair([a, colour, grey, z], [a2, grey2, colour2, z2]).moved).toEqual([
      { dummyPage: 3, revisionPage: 2, fromPosition: 3, toPosition: 2 },
    ]);
  });

  test('all-black and all-white pages keep their order and are not taken for each other', () => {
    const [black, white] = [evenSignature(0, 0, 0), evenSignature(255, 255, 255)];
    const dummy = [black, white, black, white, black].map((signature) => pageView({ signature }));
    const pairing = pair(
      dummy,
      [35, 250, 30, 252, 33].map((grey) => pageView({ signature: evenSignature(grey, grey, grey) })),
    );
    expect(told(pairing)).toEqual([1, 2, 3, 4, 5].map((page) => [page, page, 'likeness']));
    expect(rest(pairing)).toEqual(nothingElse);
  });
});

describe('two frames of one scene', () => {
  /** The scene seconds later: something small went elsewhere, the light is the same. */
  const frameOf = (seed: number, time: number, strength: number) => {
    const first = pictureSignature(seed);
    return pageView({
      signature: recolour(first, (rgb, x, y) => {
        const weight = Math.exp(-((x - 8 - 3 * time) ** 2 + (y - 20) ** 2) / 8);
        return rgb.map((value) => value + strength * weight);
      }),
    });
  };
  const others = Array.from({ length: 6 }, (_, index) => photo(40 + index));
  const bookOf = (third: PageView, sixth: PageView) => [...others.slice(0, 2), third, ...others.slice(2, 4), sixth];

  test.each([12, 25, 60])('exchanged are seen as exchanged: a difference of %i levels at its strongest', (strength) => {
    const [one, two] = [frameOf(7, 0, strength), frameOf(7, 2, strength)];
    const swapped = bookOf(two, one).map((page, seed) => converted(page, seed));
    const straight = bookOf(one, two).map((page, seed) => converted(page, seed));
    expect(rest(pair(bookOf(one, two), straight))).toEqual(nothingElse);
    expect(told(pair(bookOf(one, two), swapped)).filter(([from, to]) => from !== to)).toEqual([
      [6, 3, 'likeness'],
      [3, 6, 'likeness'],
    ]);
  });

  test('that differ by less than the noise stay in their order, whatever the noise says', () => {
    for (let seed = 0; seed < 20; seed++) {
      const [one, two] = [frameOf(7, 0, 0.4), frameOf(7, 2, 0.4)];
      const noisy = (page: PageView, salt: number) => {
        const chance = chanceFrom(1000 * salt + seed);
        const signature = recolour(page.signature!, (rgb) => rgb.map((value) => value + 6 * (chance() - 0.5)));
        return converted({ ...page, signature }, seed + salt);
      };
      const pairing = pair(bookOf(one, two), bookOf(one, two).map(noisy));
      expect(rest(pairing)).toEqual(nothingElse);
    }
  });

  test('of which one is emptied and the other stands twice: the copy is not taken for the emptied one', () => {
    const [one, two] = [frameOf(7, 0, 40), frameOf(7, 2, 40)];
    const [a, b, , c, d] = bookOf(one, two).map((page, seed) => converted(page, seed));
    const two2 = converted(two, 9);
    const revision = [a!, b!, paper('x'), c!, { ...two2, contentHash: 'a copy' }, d!, two2];
    const pairing = pair(bookOf(one, two), revision);
    expect(pairing.pairs[2]).toEqual({ dummyPage: 3, revisionPage: 3, by: 'place', turnedDeg: 0, emptied: true });
    expect(rest(pairing)).toEqual({ ...nothingElse, repeated: [{ revisionPage: 5, dummyPage: 6, firstAt: 7 }] });
  });

  test('of which one is turned: the turned one is still told', () => {
    const [one, two] = [frameOf(7, 0, 40), frameOf(7, 2, 40)];
    const revision = bookOf(one, two).map((page, seed) => converted(page, seed));
    revision[2] = converted({ ...one, signature: turnSignature(one.signature!, 180) });
    const pairing = pair(bookOf(one, two), revision);
    expect(pairing.pairs.map(({ turnedDeg }) => turnedDeg)).toEqual([0, 0, 180, 0, 0, 0]);
    expect(rest(pairing)).toEqual(nothingElse);
  });

  test('with captions are told apart by these', () => {
    const one = { ...frameOf(7, 0, 0), words: wordsOf('Boats leaving harbour') };
    const two = { ...frameOf(7, 2, 0), words: wordsOf('Evening returns slowly') };
    const swapped = bookOf(two, one).map((page, seed) => converted(page, seed));
    expect(pair(bookOf(one, two), swapped).pairs.map(({ dummyPage }) => dummyPage)).toEqual([1, 2, 6, 4, 5, 3]);
  });
});

describe('pages that show something else', () => {
  const sheet = { x: 0, y: 0, width: 240, height: 300 };
  const [a, b, c] = [photo(1), photo(2), photo(3)];
  const around = (middle: PageView) => [converted(a), middle, converted(c)];

  test('a picture replaced in its window leaves the page at its place', () => {
    const framed = { ...b, pictures: [placedPicture('old', sheet)] };
    const replaced = pageView({ signature: pictureSignature(77), pictures: [placedPicture('new', sheet)] });
    const pairing = pair([a, framed, c], around(replaced));
    expect(told(pairing)[1]).toEqual([2, 2, 'place']);
    expect(rest(pairing)).toEqual(nothingElse);
  });

  test('a page with nothing in common is missing, and the other one added', () => {
    const framed = { ...b, pictures: [placedPicture('old', sheet)] };
    const other = pageView({ signature: typeSignature(3), words: proseOf(3, 200) });
    expect(rest(pair([a, framed, c], around(other)))).toEqual({ ...nothingElse, missing: [2], added: [2] });
  });

  test('a page of type rewritten by half is the same page', () => {
    const before = pageView({ signature: typeSignature(3), words: proseOf(3, 200) });
    const words = [...proseOf(3, 200).slice(0, 100), ...proseOf(4, 100)];
    const after = pageView({ signature: typeSignature(9), words });
    expect(rest(pair([a, before, c], around(after)))).toEqual(nothingElse);
  });

  test('a page emptied is at its place', () => {
    const pairing = pair([a, b, c], around(paper('x')));
    expect(pairing.pairs[1]).toEqual({ dummyPage: 2, revisionPage: 2, by: 'place', turnedDeg: 0, emptied: true });
    expect(rest(pairing)).toEqual(nothingElse);
  });

  test('a page that could not be read is at its place', () => {
    const unreadable = pageView({ contentHash: null, trimmed: null, words: null, signature: null, blank: null });
    const pairing = pair([a, b, c], around(unreadable));
    expect(told(pairing)[1]).toEqual([2, 2, 'place']);
    expect(rest(pairing)).toEqual(nothingElse);
  });
});

describe('turned pages', () => {
  const neighbours = [photo(1), photo(2)] as const;
  const turnedPage = (page: PageView, turnedDeg: 90 | 180 | 270) => {
    const trimmed = turnedDeg === 180 ? page.trimmed : { width: page.trimmed!.height, height: page.trimmed!.width };
    const signature = turnSignature(page.signature!, turnedDeg);
    return converted({ ...page, trimmed, signature });
  };

  test.each([90, 180, 270] as const)('a picture turned by %i degrees is the same page, and the turn is told', (deg) => {
    const page = photo(8);
    const [first, last] = neighbours;
    const pairing = pair([first, page, last], [converted(first), turnedPage(page, deg), converted(last)]);
    expect(pairing.pairs[1]).toEqual({
      dummyPage: 2,
      revisionPage: 2,
      by: 'likeness',
      turnedDeg: deg,
      emptied: false,
    });
  });

  test('a page of type on its head is told by the direction of its words', () => {
    const even = signatureOf((x, y) => (x > 3 && x < 28 && y > 3 && y < 28 ? [210, 210, 210] : [255, 255, 255]));
    const words = proseOf(1, 150);
    const page = pageView({ signature: even, words });
    const headDown = converted({ ...page, words: words.map((word) => ({ ...word, turnDeg: 180 })) });
    expect(pair([page, neighbours[0]], [headDown, converted(neighbours[0])]).pairs[0]).toEqual({
      dummyPage: 1,
      revisionPage: 1,
      by: 'likeness',
      turnedDeg: 180,
      emptied: false,
    });
  });

  test('a quarter turn of a page whose size was not turned is not one', () => {
    const page = photo(8);
    const upright = converted({ ...page, signature: turnSignature(page.signature!, 90) });
    const pairing = pair([neighbours[0], page], [converted(neighbours[0]), upright]);
    expect(pairing.pairs.every(({ turnedDeg }) => turnedDeg === 0)).toBe(true);
  });
});

describe('a page that was carried away and lost its picture', () => {
  const [beach, pier, mast, quay] = [3, 4, 5, 6].map((seed) => photo(seed)) as [PageView, PageView, PageView, PageView];
  const captioned = (page: PageView, caption: string): PageView => ({ ...page, words: wordsOf(caption) });
  const dummy = [
    captioned(beach, 'the beach at low water 1'),
    captioned(pier, 'a pier that leads nowhere at all 2'),
    captioned(mast, 'three masts and no sail 3'),
    captioned(quay, 'the quay before the boats came 4'),
  ];
  const emptied = (caption: string): PageView =>
    pageView({
      contentHash: 'emptied',
      words: wordsOf(caption),
      signature: evenSignature(250, 250, 250),
      blank: false,
    });

  test('is known by its words, which no other page has', () => {
    const pairing = pair(dummy, [dummy[0]!, dummy[2]!, dummy[3]!, emptied('a pier that leads nowhere at all 4')]);
    expect(told(pairing)).toEqual([
      [1, 1, 'content'],
      [3, 2, 'content'],
      [4, 3, 'content'],
      [2, 4, 'likeness'],
    ]);
    expect(pairing.moved).toEqual([{ dummyPage: 2, revisionPage: 4, fromPosition: 2, toPosition: 4 }]);
  });

  test('is not taken for one that shares only the running head', () => {
    const headed = dummy.map((page) => ({ ...page, words: wordsOf('boats and their people in winter') }));
    const pairing = pair(headed, [headed[0]!, headed[2]!, headed[3]!, emptied('boats and their people in winter')]);
    expect([pairing.missing, pairing.added]).toEqual([[2], [4]]);
  });
});
