import { makePlan } from '../../src/plates/index.ts';

const ONE_FOLD = 4;

/**
 * Pairs of pages that lie side by side across a spine, bifolio by bifolio from the outermost, each front before its back:
 * read off the sheets of a book of single-fold sheets put one inside the other.
 */
export function spinePairs(sectionPages: number, before = 0): number[] {
  const plan = makePlan({
    pages: sectionPages,
    trimmed: { width: 148, height: 210 },
    binding: 'saddle-stitched',
    sections: Array.from({ length: sectionPages / ONE_FOLD }, () => ({ pages: ONE_FOLD })),
  });
  return plan.sheets.flatMap(({ sides }) => sides.flatMap(({ cells }) => cells.map(({ page }) => page! + before)));
}
