import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deltaE00 } from '../../../src/comparing/colour/ciede2000.ts';
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

  it('between black and white is 100', () => {
    expect(deltaE00(labFromSrgb(0, 0, 0), labFromSrgb(255, 255, 255))).toBeCloseTo(100, 9);
  });
});
