/** Does `work` for every item, at most `most` at a time; results in the order of the items. The first failure ends it. */
export async function atOnce<Item, Result>(
  items: readonly Item[],
  most: number,
  work: (item: Item) => Promise<Result>,
): Promise<readonly Result[]> {
  const results = new Array<Result>(items.length);
  let next = 0;
  let failed = false;
  const hand = async (): Promise<void> => {
    while (next < items.length && !failed) {
      const index = next;
      next += 1;
      try {
        results[index] = await work(items[index] as Item);
      } catch (error) {
        failed = true;
        throw error;
      }
    }
  };
  await Promise.all(Array.from({ length: Math.max(1, Math.min(most, items.length)) }, hand));
  return results;
}
