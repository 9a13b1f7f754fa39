/**
 * The longest run of numbers that already stand in rising order, other numbers between them left out. For page order:
 * the pages that stayed; what is left over was moved.
 *
 * Where several runs are longest, the one is taken that has the smallest numbers seen from its end: of 2 1 it keeps 1,
 * so the later page counts as the moved one. Of equal numbers the one further back is taken; no two stand in one run.
 *
 * @param order  any numbers; the same number may occur twice
 * @returns indices into `order`, ascending
 * @source patience sorting: Fredman, Discrete Math. 11 (1975), from memory; values in test/standards/sequences
 */
export function longestIncreasingRun(order: readonly number[]): number[] {
  // lastOf[k]: the index of the smallest number that ends a run of k + 1 numbers so far.
  const lastOf: number[] = [];
  const beforeIt = new Int32Array(order.length);
  order.forEach((number, index) => {
    let low = 0;
    let high = lastOf.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (order[lastOf[middle]!]! < number) low = middle + 1;
      else high = middle;
    }
    beforeIt[index] = low === 0 ? -1 : lastOf[low - 1]!;
    lastOf[low] = index;
  });
  const run: number[] = [];
  for (let index = lastOf.at(-1) ?? -1; index >= 0; index = beforeIt[index]!) run.push(index);
  return run.reverse();
}
