import fc from 'fast-check';
import { expect, test } from 'vitest';
import { describe as ready, turnSignature } from '../../../src/comparing/pairing/descriptor.ts';
import { unexplained } from '../../../src/comparing/pairing/unexplained.ts';
import { convert, pictureSignature, signatureOf } from './made-up-pages.ts';

const settings = { seed: 20261125, numRuns: 100 };
const anyPicture = fc.nat(5000).map(pictureSignature);

test('a page has nothing unexplained against itself, and as much against another one as that one against it', () => {
  fc.assert(
    fc.property(anyPicture, anyPicture, (one, other) => {
      expect(unexplained(ready(one), ready(one))).toBeLessThan(1e-6);
      const there = unexplained(ready(one), ready(other));
      expect(unexplained(ready(other), ready(one))).toBeCloseTo(there, 9);
      expect(there).toBeGreaterThanOrEqual(0);
      expect(there).toBeLessThanOrEqual(1);
    }),
    settings,
  );
});

test('a conversion leaves less unexplained than any other picture does', () => {
  fc.assert(
    fc.property(fc.nat(2000), fc.integer({ min: 1, max: 2000 }), (seed, step) => {
      const [page, other] = [pictureSignature(seed), pictureSignature(seed + step)];
      const after = ready(convert(page, seed));
      expect(unexplained(ready(page), after)).toBeLessThan(unexplained(ready(other), after) / 2);
    }),
    settings,
  );
});

test('a quarter turn clockwise brings the top left cell to the top right', () => {
  const corner = signatureOf((x, y) => (x === 0 && y === 0 ? [9, 8, 7] : [255, 255, 255]));
  expect(turnSignature(corner, 90)).toEqual(signatureOf((x, y) => (x === 31 && y === 0 ? [9, 8, 7] : [255, 255, 255])));
});

test('turning by 90 twice is turning by 180, and by 90 and 270 is not turning', () => {
  fc.assert(
    fc.property(anyPicture, (page) => {
      expect(turnSignature(turnSignature(page, 90), 90)).toEqual(turnSignature(page, 180));
      expect(turnSignature(turnSignature(page, 90), 270)).toEqual(page);
    }),
    settings,
  );
});
