import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import { openBookFrom, pageGeometry } from '../../../src/reading/index.ts';
import type { PageGeometry, PdfRectangle } from '../../../src/reading/index.ts';
import { placeSlug } from '../../../src/reporting/signed-copy/slug-place.ts';
import { oddBook } from './odd-book.ts';
import type { OddPage } from './odd-book.ts';

const PT_PER_MM = 72 / 25.4;

/** To the hundredth of a unit, as files are written. */
const units = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: min * 100, max: max * 100 }).map((hundredths) => hundredths / 100);
const side = units(-2000, 2000);
const length = units(80, 1500);
const inset = units(0, 30);

const pages: fc.Arbitrary<OddPage> = fc
  .record({
    corner: fc.tuple(side, side),
    size: fc.tuple(length, length),
    crop: fc.option(inset, { nil: undefined }),
    trim: fc.option(inset, { nil: undefined }),
    bleed: fc.option(inset, { nil: undefined }),
    rotate: fc.constantFrom(0, 90, 180, 270, -90, 450),
    userUnit: fc.constantFrom(1, 2, 0.5),
  })
  .map(({ corner: [x, y], size: [width, height], crop, trim, bleed, ...rest }) => {
    const within = (by: number): readonly [number, number, number, number] => [
      x + by,
      y + by,
      x + width - by,
      y + height - by,
    ];
    return {
      name: 'any',
      media: within(0),
      ...(crop === undefined ? {} : { crop: within(crop) }),
      ...(trim === undefined ? {} : { trim: within(trim) }),
      ...(bleed === undefined ? {} : { bleed: within(bleed) }),
      ...rest,
    };
  });

async function geometryOf(page: OddPage): Promise<PageGeometry> {
  const contents = Buffer.from(await oddBook([page]));
  return pageGeometry(await openBookFrom({ path: 'odd.pdf', contents, sha256: '' }, DEFAULT_LIMITS), 1);
}

/** A point in the page's own space as it is looked at: mm from the trim's upper left corner, y down. */
function seen(
  { toPage: [a, b, c, d, e, f] }: PageGeometry,
  [x, y]: readonly [number, number],
): readonly [number, number] {
  return [a * x + c * y + e, b * x + d * y + f];
}

const holds = (outer: PdfRectangle, inner: PdfRectangle): boolean =>
  outer.x0 <= inner.x0 + 1e-3 &&
  outer.y0 <= inner.y0 + 1e-3 &&
  outer.x1 >= inner.x1 - 1e-3 &&
  outer.y1 >= inner.y1 - 1e-3;

describe('the place of the slug', () => {
  it('is upright, full size, below all that is seen, 3 mm off the trim and outside the bleed, on a sheet that holds it', async () => {
    await fc.assert(
      fc.asyncProperty(pages, async (page) => {
        const geometry = await geometryOf(page);
        const place = placeSlug(geometry);
        const [a, b, c, d, e, f] = place.matrix;
        const own = (x: number, y: number): readonly [number, number] => [a * x + c * y + e, b * x + d * y + f];
        const at = (x: number, y: number): readonly [number, number] => seen(geometry, own(x, y));
        const [left, foot] = at(0, 0);
        const [right, top] = at(place.widthPt, place.heightPt);
        // Points of the slug are points on paper, its x to the right and its y up, whatever the page's own units are.
        expect((right - left) * PT_PER_MM).toBeCloseTo(place.widthPt, 6);
        expect((foot - top) * PT_PER_MM).toBeCloseTo(place.heightPt, 6);
        const { boxes } = geometry;
        expect(top).toBeGreaterThanOrEqual(boxes.crop.y + boxes.crop.height + 1.4999);
        expect(top).toBeGreaterThanOrEqual(boxes.trim.y + boxes.trim.height + 2.9999);
        expect(top).toBeGreaterThanOrEqual(boxes.bleed.y + boxes.bleed.height);
        const corners = [own(0, 0), own(place.widthPt, place.heightPt)] as const;
        const band = {
          x0: Math.min(corners[0][0], corners[1][0]),
          y0: Math.min(corners[0][1], corners[1][1]),
          x1: Math.max(corners[0][0], corners[1][0]),
          y1: Math.max(corners[0][1], corners[1][1]),
        };
        expect(holds(place.sheet, band) && holds(place.sheet, place.seen) && holds(place.media, place.sheet)).toBe(
          true,
        );
        expect(holds(place.media, geometry.own.media)).toBe(true);
        expect([place.seen, place.trim, place.bleed]).toEqual([
          geometry.own.crop,
          geometry.own.trim,
          geometry.own.bleed,
        ]);
        expect(place.fromPt >= 0 && place.toPt <= place.widthPt && place.toPt - place.fromPt >= 280).toBe(true);
      }),
      { numRuns: 150 },
    );
  });

  it('widens the sheet of a narrow page to the right and leaves that of a wide one', async () => {
    const media = (width: number) => ({ name: 'plain', media: [0, 0, width, 300] as const });
    const narrow = placeSlug(await geometryOf(media(90)));
    expect([narrow.sheet.x0, narrow.sheet.x1, narrow.sheet.y1]).toEqual([0, 317.48, 300]);
    const wide = placeSlug(await geometryOf(media(700)));
    expect([wide.sheet.x0, wide.sheet.x1, wide.sheet.y1]).toEqual([0, 700, 300]);
    expect(wide.sheet.y0).toBeCloseTo(-(3 + 22) * PT_PER_MM, 2);
  });
});
