import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { invertSymmetric, multiplyVector } from '../../../src/comparing/registration/solve.ts';

const settings = { seed: 20261125 };
const number = fc.double({ min: -10, max: 10, noNaN: true });

/** A matrix of normal equations: rows of any numbers times themselves, and a little on the diagonal. */
const positive = fc
  .integer({ min: 1, max: 8 })
  .chain((size) =>
    fc.record({
      size: fc.constant(size),
      rows: fc.array(fc.array(number, { minLength: size, maxLength: size }), { minLength: size, maxLength: 2 * size }),
      vector: fc.array(number, { minLength: size, maxLength: size }),
    }),
  )
  .map(({ size, rows, vector }) => {
    const matrix = new Float64Array(size * size);
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < size; j++) matrix[i * size + j] = rows.reduce((sum, row) => sum + row[i]! * row[j]!, 0);
      matrix[i * size + i]! += 0.5;
    }
    return { size, matrix, vector: Float64Array.from(vector) };
  });

describe('the inverse of a symmetric matrix', () => {
  it('times the matrix leaves every vector as it is', () => {
    fc.assert(
      fc.property(positive, ({ size, matrix, vector }) => {
        const inverse = invertSymmetric(matrix, size)!;
        const back = multiplyVector(matrix, multiplyVector(inverse, vector, size), size);
        back.forEach((value, at) => expect(value).toBeCloseTo(vector[at]!, 5));
      }),
      settings,
    );
  });

  it('is symmetric itself, and the matrix is left as it was', () => {
    fc.assert(
      fc.property(positive, ({ size, matrix }) => {
        const before = Float64Array.from(matrix);
        const inverse = invertSymmetric(matrix, size)!;
        expect(matrix).toEqual(before);
        for (let i = 0; i < size; i++) {
          for (let j = 0; j < i; j++) expect(inverse[i * size + j]).toBeCloseTo(inverse[j * size + i]!, 8);
        }
      }),
      settings,
    );
  });

  it.each([
    ['two by two, worked by hand', [4, 2, 2, 3], 2, [3 / 8, -2 / 8, -2 / 8, 4 / 8]],
    ['one number', [4], 1, [0.25]],
  ] as const)('of %s', (_, matrix, size, expected) => {
    const inverse = invertSymmetric(Float64Array.from(matrix), size)!;
    inverse.forEach((value, at) => expect(value).toBeCloseTo(expected[at]!, 12));
  });

  it.each([
    ['of nothing but zeros', [0, 0, 0, 0], 2],
    ['whose second row repeats the first', [1, 2, 2, 4], 2],
    ['with a negative number on its diagonal', [1, 0, 0, -1], 2],
    ['that holds no number at all', [NaN], 1],
  ] as const)('is not given for a matrix %s', (_, matrix, size) => {
    expect(invertSymmetric(Float64Array.from(matrix), size)).toBeNull();
  });
});

describe('a matrix times a vector', () => {
  it('takes its rows one after the other', () => {
    const matrix = Float64Array.from([1, 2, 3, 4, 5, 6, 7, 8, 9]);
    expect(multiplyVector(matrix, Float64Array.from([1, 0, -1]), 3)).toEqual(Float64Array.from([-2, -2, -2]));
  });
});
