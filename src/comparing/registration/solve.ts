/**
 * Inverse of a small symmetric positive matrix by Cholesky's factors.
 *
 * @param matrix  `size` squared numbers, row by row
 * @returns the inverse, row by row, or null where the matrix is not positive
 * @source Cholesky decomposition; from memory, checked by a law in the tests
 */
export function invertSymmetric(matrix: Float64Array, size: number): Float64Array | null {
  const lower = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * size + j]!;
      for (let k = 0; k < j; k++) sum -= lower[i * size + k]! * lower[j * size + k]!;
      if (i === j) {
        if (!(sum > 1e-12 * Math.abs(matrix[i * size + i]!) && sum > 0)) return null;
        lower[i * size + i] = Math.sqrt(sum);
      } else {
        lower[i * size + j] = sum / lower[j * size + j]!;
      }
    }
  }
  const inverse = new Float64Array(size * size);
  for (let column = 0; column < size; column++) {
    const y = new Float64Array(size);
    for (let i = 0; i < size; i++) {
      let sum = i === column ? 1 : 0;
      for (let k = 0; k < i; k++) sum -= lower[i * size + k]! * y[k]!;
      y[i] = sum / lower[i * size + i]!;
    }
    for (let i = size - 1; i >= 0; i--) {
      let sum = y[i]!;
      for (let k = i + 1; k < size; k++) sum -= lower[k * size + i]! * inverse[k * size + column]!;
      inverse[i * size + column] = sum / lower[i * size + i]!;
    }
  }
  return inverse;
}

/** A `size` x `size` matrix, row by row, times a vector. */
export function multiplyVector(matrix: Float64Array, vector: Float64Array, size: number): Float64Array {
  const out = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    let sum = 0;
    for (let j = 0; j < size; j++) sum += matrix[i * size + j]! * vector[j]!;
    out[i] = sum;
  }
  return out;
}
