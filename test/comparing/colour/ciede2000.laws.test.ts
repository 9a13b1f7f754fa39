import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deltaE00, deltaE00OfValues } from '../../../src/comparing/colour/ciede2000.ts';
import { labFromSrgb } from '../../../src/comparing/colour/lab.ts';

const byte = fc.integer({ min: 0, max: 255 });
const colour = fc.tuple(byte, byte, byte).map(([r, g, b]) => labFromSrgb(r, g, b));

describe('how far apart two colours look', () => {
  it('does not depend on which comes first', () => {
    fc.assert(
      fc.property(colour, colour, (one, other) => {
        expect(deltaE00(one, other)).toBeCloseTo(deltaE00(other, one), 9);
      }),
    );
  });

  it('is nothing for one colour and something for two', () => {
    fc.assert(
      fc.property(colour, colour, (one, other) => {
        expect(deltaE00(one, one)).toBe(0);
        const same = one.l === other.l && one.a === other.a && one.b === other.b;
        expect(deltaE00(one, other) > 0).toBe(!same);
      }),
    );
  });

  it('has no jump where a colour is exactly green', () => {
    fc.assert(
      fc.property(colour, fc.integer({ min: -100, max: -1 }), (other, a) => {
        // Opposite hues do jump, by the formula's own rule.
        fc.pre(other.a < 0);
        const exact = deltaE00({ l: 50, a, b: 0 }, other);
        expect(deltaE00({ l: 50, a, b: 1e-9 }, other)).toBeCloseTo(exact, 6);
      }),
    );
  });

  it('between black and white is 100', () => {
    expect(deltaE00(labFromSrgb(0, 0, 0), labFromSrgb(255, 255, 255))).toBeCloseTo(100, 9);
  });

  it('is the same by the quick form, for near colours and for far ones, to a ten-thousandth', () => {
    const near = fc.tuple(
      colour,
      fc.double({ min: -3, max: 3, noNaN: true }),
      fc.double({ min: -3, max: 3, noNaN: true }),
    );
    const pairs = fc.oneof(
      fc.tuple(colour, colour),
      near.map(([one, a, b]) => [one, { l: one.l + a, a: one.a + b, b: one.b - a }] as const),
    );
    fc.assert(
      fc.property(pairs, ([one, other]) => {
        const quick = deltaE00OfValues(one.l, one.a, one.b, other.l, other.a, other.b);
        expect(Math.abs(quick - deltaE00(one, other))).toBeLessThan(1e-4);
      }),
      { numRuns: 5000 },
    );
  });
});
