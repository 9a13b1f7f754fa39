import type { Box, Mm } from '../model/index.ts';
import { medianOf } from './place-by-words.ts';

/** A page's box may be placed through a window so much smaller, or with so much bleed, at each edge. */
const CUT_MM = 3;
const BLEED_MM = 6;
/** So many boxes must agree so closely, and be half of all of that size: a picture may have it by chance. */
const FEWEST = 4;
const AGREE_SHARE = 0.5;
const AGREE = 0.001;

interface Size {
  readonly width: Mm;
  readonly height: Mm;
}

/** Something that a sheet's file places on it. */
interface Placed {
  readonly box: Box;
  /** How large it stands there. */
  readonly scale: number;
}

/**
 * Whether what was placed on a sheet may be a page, in whatever size and whichever way it is turned.
 *
 * @param side  which it stands on, with one page more at least
 */
export function mayBePage({ box, scale }: Placed, trimmed: Size, side: Size): boolean {
  if (2 * box.width * box.height > side.width * side.height) return false;
  const isOf = (placed: Mm, page: Mm): boolean =>
    placed / scale >= page - 2 * CUT_MM && placed / scale <= page + 2 * BLEED_MM;
  return (
    (isOf(box.width, trimmed.width) && isOf(box.height, trimmed.height)) ||
    (isOf(box.width, trimmed.height) && isOf(box.height, trimmed.width))
  );
}

/**
 * How large pages stand on their sheets against the dummy, by how large they were placed.
 *
 * @param scales  of all that may be pages
 * @returns over the dummy; null where too few tell it, or they do not agree
 */
export function scaleByBoxes(scales: readonly number[]): number | null {
  const scale = medianOf(scales);
  const agreeing = scales.filter((each) => Math.abs(each / scale - 1) <= AGREE);
  return agreeing.length >= Math.max(FEWEST, AGREE_SHARE * scales.length) ? medianOf(agreeing) : null;
}
