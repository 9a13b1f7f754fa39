/** Sums over pairs of values, by which their correlation is told. */
export interface PairSums {
  readonly n: number;
  readonly a: number;
  readonly b: number;
  readonly aa: number;
  readonly bb: number;
  readonly ab: number;
}

/**
 * Pearson's correlation from sums, so that whoever walks over the values does so once.
 *
 * @returns -1 to 1; 0 where either side is even
 * @source Pearson 1895 (test/standards/correlation has it of the twin in comparing)
 */
export function correlationOf({ n, a, b, aa, bb, ab }: PairSums): number {
  const spreadA = aa - (a * a) / n;
  const spreadB = bb - (b * b) / n;
  return spreadA > 0 && spreadB > 0 ? (ab - (a * b) / n) / Math.sqrt(spreadA * spreadB) : 0;
}
