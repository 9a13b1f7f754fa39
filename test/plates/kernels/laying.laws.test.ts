import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Grey } from '../../../src/plates/index.ts';
import { layingOf } from '../../../src/plates/kernels/laying.ts';

const greyOf = (width: number, height: number): fc.Arbitrary<Grey> =>
  fc
    .uint8Array({ minLength: width * height, maxLength: width * height })
    .map((data) => ({ width, height, pxPerMm: 2, data }));
const laid = fc
  .record({
    width: fc.integer({ min: 1, max: 40 }),
    height: fc.integer({ min: 1, max: 12 }),
    moreX: fc.integer({ min: 0, max: 19 }),
    moreY: fc.integer({ min: 0, max: 5 }),
    step: fc.constantFrom(1 as const, 2 as const),
    isMasked: fc.boolean(),
  })
  .chain(({ width, height, moreX, moreY, step, isMasked }) =>
    fc.record({
      page: greyOf(width, height),
      field: greyOf(width + moreX, height + moreY),
      open: isMasked
        ? fc.array(fc.constantFrom(0, 1), { minLength: width * height, maxLength: width * height })
        : fc.constant(null),
      left: fc.integer({ min: 0, max: moreX }),
      top: fc.integer({ min: 0, max: moreY }),
      step: fc.constant(step),
    }),
  );

describe('a page laid over a field', () => {
  it('has the sums that adding pixel by pixel gives, at every place and whatever counts of it', () => {
    fc.assert(
      fc.property(laid, ({ page, field, open, left, top, step }) => {
        const sums = { n: 0, a: 0, b: 0, aa: 0, bb: 0, ab: 0 };
        for (let y = 0; y < page.height; y += step) {
          for (let x = 0; x < page.width; x += step) {
            if (open?.[y * page.width + x] === 0) continue;
            const a = page.data[y * page.width + x]!;
            const b = field.data[(top + y) * field.width + left + x]!;
            sums.n += 1;
            sums.a += a;
            sums.b += b;
            sums.aa += a * a;
            sums.bb += b * b;
            sums.ab += a * b;
          }
        }
        const laying = layingOf(field, page, open === null ? null : Uint8Array.from(open), step);
        expect(laying?.sumsAt(left, top)).toEqual(sums);
      }),
    );
  });

  it('is not laid where it does not fit', () => {
    const grey = (width: number): Grey => ({ width, height: 1, pxPerMm: 2, data: new Uint8Array(width) });
    expect(layingOf(grey(4), grey(5), null, 1)).toBeNull();
  });

  it('keeps its own sums while another is laid', () => {
    const grey = (value: number): Grey => ({ width: 1, height: 1, pxPerMm: 2, data: Uint8Array.of(value) });
    const one = layingOf(grey(3), grey(2), null, 1)!;
    layingOf(grey(9), grey(9), null, 1)!.sumsAt(0, 0);
    expect(one.sumsAt(0, 0).ab).toBe(6);
  });
});
