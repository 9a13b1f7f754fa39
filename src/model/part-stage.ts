/** Where a part stands, in one word; what its newest file says, where that says more than what was stated before. */
export const STAGES = [
  'empty',
  'reading',
  'comparing',
  'failed',
  'dummy-to-sign',
  'dummy-in-force',
  'findings-open',
  'agrees',
  'release-to-sign',
  'released',
] as const;

/** One of them. */
export type StageName = (typeof STAGES)[number];
