import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mayBePage, scaleByBoxes } from '../../src/plates/index.ts';

/** A square page, of which a smaller window and a larger scale look alike. */
const PAGE = { width: 210, height: 210 };
const OBLONG = { width: 240, height: 300 };
const SIDE = { width: 1030, height: 790 };
const placed = (width: number, height: number, scale: number) => ({ box: { x: 20, y: 30, width, height }, scale });

describe('what is placed on a sheet', () => {
  it('may be a page in any size, upright or on its side, cut a little or with bleed', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.3, max: 1.2, noNaN: true }),
        fc.double({ min: -2.5, max: 5, noNaN: true }),
        fc.boolean(),
        (scale, bleed, onSide) => {
          const [wide, high] = [(OBLONG.width + 2 * bleed) * scale, (OBLONG.height + 2 * bleed) * scale];
          const form = onSide ? placed(high, wide, scale) : placed(wide, high, scale);
          expect(mayBePage(form, OBLONG, SIDE)).toBe(true);
        },
      ),
    );
  });

  it('is none where it is a picture of another size, whatever its scale, or covers most of the side', () => {
    expect(mayBePage(placed(120, 120, 1), PAGE, SIDE)).toBe(false);
    expect(mayBePage(placed(210, 210, 2), PAGE, SIDE)).toBe(false);
    // what is not the same both ways has no scale
    expect(mayBePage(placed(210, 210, Number.NaN), PAGE, SIDE)).toBe(false);
    expect(mayBePage(placed(420, 420, 2), PAGE, { width: 440, height: 440 })).toBe(false);
  });
});

describe('the scale of pages by how they were placed', () => {
  it('is that of most of them', () => {
    expect(scaleByBoxes([0.97, 0.97, 0.9702, 0.9699, 0.4])).toBeCloseTo(0.97, 3);
  });

  it('is not told by few, nor where they disagree', () => {
    expect(scaleByBoxes([])).toBeNull();
    expect(scaleByBoxes([0.97, 0.97, 0.97])).toBeNull();
    expect(scaleByBoxes([0.9, 0.92, 0.94, 0.96, 0.98, 1])).toBeNull();
  });
});
