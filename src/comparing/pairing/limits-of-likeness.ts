/**
 * Where pairing draws its lines. Unlikeness runs from 0 (the same) to 1 (nothing in common). These are no tolerances of
 * the report: they say which page is meant, never whether it is right. Measured on photographs through CMYK, tone
 * compression and gamma, and on pages of type (test/comparing/pairing).
 */

/** The same page wherever it stands. Measured on parts of photographs: the same up to 0.1, others from 0.28. */
export const SAME_ANYWHERE = 0.15;

/** Alike enough to be the same page, altered, when it also stands in the dummy's order. */
export const SAME_IN_ORDER = 0.25;

/** The next best page is at least this much less alike, and half as much again, before a pair is taken without asking the order. */
export const CLEAR_STEP = 0.04;
export const CLEAR_RATIO = 1.5;

/** An altered page out of its order is taken only where every other page is less alike by this much. */
export const LONE_STEP = 0.25;

/**
 * Two frames of a scene are called exchanged when their differences follow the exchange rather than the order: a
 * correlation of +1 explains all, noise gives 0; so this is 0.35 for the exchange and -0.35 for the order.
 */
export const EXCHANGE_CORRELATION = 0.7;

/** What must be gained, in unlikeness a page, where words or pictures tell lookalikes apart rather than the signature. */
export const EXCHANGE_GAIN = 0.1;

/** More lookalikes than this are left in their order: they are flat colours or rows of type without words. */
export const MOST_LOOKALIKES = 250;
