import { MM_PER_INCH, uniteBoxes } from '../../model/index.ts';
import type { Box, Finding, Mm, Ppi } from '../../model/index.ts';
import { EXHIBIT_KINDS } from './exhibit-kinds.ts';

/** A size in millimetres. */
export interface SizeMm {
  readonly width: Mm;
  readonly height: Mm;
}

/** Long side of a close-up: more than a screen shows of half a row, little enough for hundreds of findings. */
export const CLOSE_UP_PX = 1000;
const LEAST_MM = { width: 50, height: 34 };
const LEAST_PPI = 24;
const MOST_PPI = 200;
/** A page is never drawn larger than this for one close-up, whatever its size. */
const PAGE_PIXELS = 30e6;

/**
 * The part of the page that is shown of a finding, in mm of the page: around its boxes on both sides with a margin, kept
 * within the paper; the whole paper where the finding has no box or nearly fills the page.
 *
 * @param paper  the size that holds both pages
 */
export function closeUpRegion(finding: Finding, paper: SizeMm): Box {
  const whole: Box = { x: 0, y: 0, width: paper.width, height: paper.height };
  const box = boxOfBoth(finding);
  if (box === null || EXHIBIT_KINDS[finding.kind].extent === 'page') return whole;
  const margin = Math.max(6, 0.08 * Math.max(box.width, box.height));
  const across = span({ start: box.x, length: box.width }, margin, LEAST_MM.width, paper.width);
  const down = span({ start: box.y, length: box.height }, margin, LEAST_MM.height, paper.height);
  const region = { x: across.start, y: down.start, width: across.length, height: down.length };
  return region.width * region.height > 0.75 * paper.width * paper.height ? whole : region;
}

/** The resolution at which a page is drawn so that a region of it fills a close-up. */
export function closeUpPpi(region: Box, paper: SizeMm): Ppi {
  const wanted = (CLOSE_UP_PX * MM_PER_INCH) / Math.max(region.width, region.height, 1);
  const allowed = Math.sqrt(PAGE_PIXELS / Math.max(1, paper.width * paper.height)) * MM_PER_INCH;
  return Math.max(1, Math.floor(Math.min(Math.max(wanted, LEAST_PPI), MOST_PPI, allowed)));
}

function boxOfBoth({ box, revisionBox }: Finding): Box | null {
  if (box === null) return revisionBox;
  return revisionBox === null ? box : uniteBoxes(box, revisionBox);
}

interface Span {
  readonly start: number;
  readonly length: number;
}

/** A stretch with a margin, at least `least` long, moved and shortened to lie within 0 and `most`. */
function span(stretch: Span, margin: number, least: number, most: number): Span {
  const length = Math.min(most, Math.max(least, stretch.length + 2 * margin));
  const middle = stretch.start + stretch.length / 2;
  return { start: Math.min(Math.max(0, middle - length / 2), most - length), length };
}
