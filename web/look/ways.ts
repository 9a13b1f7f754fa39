/** How the two pages are laid against each other. */
export const WAYS = ['beside', 'fade', 'edge', 'difference'] as const;

/** One of them. */
export type Way = (typeof WAYS)[number];
