import { describe, expect, it } from 'vitest';
import type { PageForPress } from '../../../src/comparing/pictures/coarse-pictures.ts';
import { tellCoarsePictures } from '../../../src/comparing/pictures/coarse-pictures.ts';
import type { PlacedPicture } from '../../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import { pictureFacts } from '../sketched-page.ts';

const tolerances = { ...DEFAULT_TOLERANCES, coarsePpi: 200 };
const WINDOW = { x: 20, y: 30, width: 100, height: 80 };
const picture = (effectivePpi: number, given: Partial<PlacedPicture> = {}): PlacedPicture => ({
  ...pictureFacts(WINDOW),
  effectivePpi,
  ...given,
});

/** A page of a revision of 200 x 250 mm, by default other data than the dummy's page of its number. */
const page = (
  pageNumber: number,
  pictures: readonly PlacedPicture[],
  given: Partial<PageForPress> = {},
): PageForPress => ({
  page: { pageNumber, pictures, trimmed: { width: 200, height: 250 } },
  dummyPage: pageNumber,
  sameContent: false,
  ...given,
});
const finePages = [1, 2, 3].map((number) => page(number, [picture(300)]));
const tell = (pages: readonly PageForPress[], purpose: 'compare' | 'plates' = 'compare') =>
  tellCoarsePictures(pages, purpose, tolerances);

describe('a placeholder that was never exchanged', () => {
  it('wants a look where the other pictures are fit for press', () => {
    expect(tell([...finePages, page(9, [picture(96.4)], { dummyPage: 8 })])).toEqual([
      {
        kind: 'picture-coarse',
        weight: 'look',
        dummyPage: 8,
        revisionPage: 9,
        box: WINDOW,
        revisionBox: WINDOW,
        measured: { ppi: 96.4, limitPpi: 200 },
        says: 'The picture has 96 ppi at its size; at least 200 are wanted for press. Was the placeholder never exchanged?',
      },
    ]);
  });

  it('stops the plates when plates are to be made', () => {
    const [finding] = tell([...finePages, page(9, [picture(96.4)])], 'plates');
    expect(finding).toMatchObject({ weight: 'stop', revisionPage: 9 });
  });

  it('on a page that the dummy does not have has its place in the revision alone', () => {
    const [finding] = tell([...finePages, page(9, [picture(96.4)], { dummyPage: null })]);
    expect(finding).toMatchObject({ dummyPage: null, revisionPage: 9, box: null, revisionBox: WINDOW });
  });

  it('is not told on a page that is the dummy’s own: both parties have seen it', () => {
    const own = page(9, [picture(96.4)], { sameContent: true });
    expect(tell([...finePages, own])).toEqual([]);
    expect(tell([...finePages, own], 'plates')).toEqual([]);
  });
});

describe('a low-resolution file', () => {
  const proofs = [page(1, [picture(72), picture(100)]), page(2, [picture(150)]), page(3, [picture(300)])];

  it('is told by one note for the whole file', () => {
    expect(tell(proofs)).toEqual([
      {
        kind: 'picture-coarse',
        weight: 'note',
        dummyPage: null,
        revisionPage: null,
        box: null,
        revisionBox: null,
        measured: { ppi: 100, limitPpi: 200 },
        says: 'This is a low-resolution file: 3 of 4 pictures are under 200 ppi (100 ppi in the middle). It is not fit for plates.',
      },
    ]);
  });

  it('stops at each of its pictures when plates are to be made', () => {
    expect(
      tell(proofs, 'plates').map(({ weight, revisionPage, measured }) => [weight, revisionPage, measured]),
    ).toEqual([
      ['stop', 1, { ppi: 72, limitPpi: 200 }],
      ['stop', 1, { ppi: 100, limitPpi: 200 }],
      ['stop', 2, { ppi: 150, limitPpi: 200 }],
    ]);
  });

  it('of which just one half is coarse is no such file', () => {
    const half = [page(1, [picture(100)]), page(2, [picture(300)])];
    expect(tell(half).map(({ weight, revisionPage }) => [weight, revisionPage])).toEqual([['look', 1]]);
  });
});

describe('no picture is coarse', () => {
  it.each<[string, PlacedPicture]>([
    ['at the limit', picture(200)],
    ['a rounding under the limit', picture(198.5)],
    ['that is an ornament of 3 mm', picture(72, { window: { x: 20, y: 30, width: 3, height: 3 } })],
    ['that is line art of one bit', picture(72, { bitsPerComponent: 1 })],
    ['that is a stencil for ink', picture(72, { origin: 'stencil-mask' })],
    ['that lies off the trimmed page', picture(72, { window: { x: 210, y: 0, width: 50, height: 50 } })],
  ])('%s', (_, one) => {
    expect(tell([...finePages, page(9, [one])])).toEqual([]);
    expect(tell([...finePages, page(9, [one])], 'plates')).toEqual([]);
  });

  it('in a book without pictures', () => {
    expect(tell([page(1, [])])).toEqual([]);
    expect(tell([], 'plates')).toEqual([]);
  });
});
