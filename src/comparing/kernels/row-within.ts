/** Where a row lies of which only the last few are at hand, in turn; the rim goes on beyond itself. */
export function rowWithin(atHand: readonly number[], row: number, rows: number): number {
  return atHand[Math.max(0, Math.min(rows - 1, row)) % atHand.length]!;
}
