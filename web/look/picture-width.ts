import { WIDEST } from '../book/queries.ts';

const LEAST = 640;

/** The width in pixels in which a page's picture is asked for, so that none of its pixels is enlarged before it must be. */
export function pictureWidth(pageMm: number, scale: number, ratio: number): number {
  return Math.min(WIDEST, Math.max(LEAST, pageMm * scale * ratio));
}
