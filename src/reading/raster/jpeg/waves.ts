/** Waves of a block, each way, and how many of them are kept. */
export const SIDE = 8;
export const KEPT = 4;

/**
 * Which wave, row by row from the slowest, is coded as the how manyeth: along the diagonals, there and back.
 *
 * @source ITU-T T.81, figure 5, from memory
 */
export const CODED_ORDER: readonly number[] = Array.from({ length: SIDE * SIDE }, (_, wave) => wave).sort(
  (one, other) => diagonalOf(one) - diagonalOf(other) || (diagonalOf(one) % 2 === 0 ? other - one : one - other),
);

function diagonalOf(wave: number): number {
  return Math.floor(wave / SIDE) + (wave % SIDE);
}
