const MOST_STEP_L = 20;
const MOST_HUE_RAD = (25 * Math.PI) / 180;
const STRONGER = 1.3;
/** Uncoated stock keeps about 60 % of the chroma; dull tints lose a larger share. */
const PALEST = 0.4;
const GREYISH = 12;

/**
 * Whether a conversion could have done this to a tint: it may darken or dull it, but not turn its hue or kindle it. Where a
 * book of few pages has only changed tints to learn from, this keeps them from passing as a conversion (common practice,
 * no source).
 *
 * @param before  L*, a*, b* of the tint at `at`
 * @param after   what the conversion makes of it, in the same place
 */
export function couldBeConverted(before: Float32Array, after: Float32Array, at: number): boolean {
  if (Math.abs(after[at]! - before[at]!) > MOST_STEP_L) return false;
  const chroma = Math.hypot(before[at + 1]!, before[at + 2]!);
  const made = Math.hypot(after[at + 1]!, after[at + 2]!);
  if (made > Math.max(GREYISH, STRONGER * chroma) || made < PALEST * chroma - GREYISH / 2) return false;
  if (Math.min(chroma, made) < GREYISH) return true;
  const turn = Math.atan2(after[at + 2]!, after[at + 1]!) - Math.atan2(before[at + 2]!, before[at + 1]!);
  return Math.abs(Math.atan2(Math.sin(turn), Math.cos(turn))) < MOST_HUE_RAD;
}
