import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { labFromSrgb, labFromSrgbBytes } from '../../../src/comparing/colour/lab.ts';

const byte = fc.integer({ min: 0, max: 255 });

describe('colours of a raster', () => {
  it('are the same by the quick table as by the formula, to a thousandth', () => {
    fc.assert(
      fc.property(byte, byte, byte, (r, g, b) => {
        const out = new Float32Array(3);
        labFromSrgbBytes(Uint8Array.of(r, g, b), out);
        const { l, a, b: yellow } = labFromSrgb(r, g, b);
        expect(Math.abs(out[0]! - l)).toBeLessThan(0.001);
        expect(Math.abs(out[1]! - a)).toBeLessThan(0.001);
        expect(Math.abs(out[2]! - yellow)).toBeLessThan(0.001);
      }),
      { numRuns: 5000 },
    );
  });

  it('that are grey stay grey', () => {
    fc.assert(
      fc.property(byte, (level) => {
        const { a, b } = labFromSrgb(level, level, level);
        expect(Math.hypot(a, b)).toBeLessThan(1e-9);
      }),
    );
  });

  it('rest on the primaries and the white of sRGB: red, green and blue add up to white', () => {
    // x, y of IEC 61966-2-1; the luminances of the primaries solve "they add up to the white".
    const red = xyz(0.64, 0.33);
    const green = xyz(0.3, 0.6);
    const blue = xyz(0.15, 0.06);
    const white = xyz(0.3127, 0.329);
    const whole = determinant(red, green, blue);
    const shares = [
      determinant(white, green, blue) / whole,
      determinant(red, white, blue) / whole,
      determinant(red, green, white) / whole,
    ] as const;
    const primaries = [red, green, blue].map((primary, index) => primary.map((value) => value * shares[index]!));
    const channels = [
      [255, 0, 0],
      [0, 255, 0],
      [0, 0, 255],
    ] as const;
    channels.forEach((rgb, index) => {
      const { l, a, b } = labFromSrgb(rgb[0], rgb[1], rgb[2]);
      const y = (l + 16) / 116;
      const back = [y + a / 500, y, y - b / 200].map(expand);
      const expected = primaries[index]!.map((value, axis) => value / white[axis]!);
      back.forEach((value, axis) => expect(value).toBeCloseTo(expected[axis]!, 12));
    });
  });
});

type Triple = readonly [number, number, number];

function xyz(x: number, y: number): Triple {
  return [x / y, 1, (1 - x - y) / y];
}

function determinant([a, b, c]: Triple, [d, e, f]: Triple, [g, h, i]: Triple): number {
  return a * (e * i - f * h) - d * (b * i - c * h) + g * (b * f - c * e);
}

function expand(share: number): number {
  return share > 6 / 29 ? share ** 3 : 3 * (6 / 29) ** 2 * (share - 4 / 29);
}
