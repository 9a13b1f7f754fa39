import fc from 'fast-check';
import { expect, it } from 'vitest';
import { squaredDistances } from '../../../src/comparing/kernels/vectors.ts';

const number = fc.float({ min: -1, max: 1, noNaN: true, noDefaultInfinity: true });
const vector = (length: number) => fc.array(number, { minLength: length, maxLength: length });
/** Two lists of vectors of one length, also of none and of one: the kernel takes four by two at a time. */
const lists = fc.integer({ min: 1, max: 100 }).chain((fours) => {
  const list = fc.array(vector(fours * 4), { maxLength: 11 });
  return fc.record({ ones: list, others: list });
});

it('the distances of every two vectors are within 1e-5 of what they are in 64 bits, and of equal ones exactly none', () => {
  fc.assert(
    fc.property(lists, ({ ones, others }) => {
      const [left, right] = [ones, [...others, ...ones]].map((list) => list.map((one) => Float32Array.from(one)));
      const apart = squaredDistances(left!, right!);
      expect(apart).toHaveLength(left!.length * right!.length);
      left!.forEach((one, row) => {
        right!.forEach((other, column) => {
          const exactly = one.reduce((sum, value, at) => sum + (value - other[at]!) ** 2, 0);
          const quick = apart[row * right!.length + column]!;
          expect(Math.abs(quick - exactly)).toBeLessThanOrEqual(1e-5 * exactly);
        });
      });
    }),
    { seed: 20261129, numRuns: 60 },
  );
});

it('of more vectors than the memory at hand holds every distance is told', () => {
  const vectors = Array.from({ length: 3000 }, (_, at) => new Float32Array(400).fill(at % 7));
  const apart = squaredDistances(vectors.slice(0, 2), vectors);
  expect([apart[1], apart[2999], apart[3000], apart[5999]]).toEqual([400, 400 * 9, 400, 400 * 4]);
});
