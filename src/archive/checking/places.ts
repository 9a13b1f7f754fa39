import type { Box, Finding } from '../../model/index.ts';

/** How near two marks may come without touching, in mm: what the boxes of findings are rounded and padded by. */
const MARGIN_MM = 0.5;

/** Whether two boxes meet; the whole page meets everything. */
export function meet(one: Box | null, other: Box | null): boolean {
  if (one === null || other === null) return true;
  return (
    one.x < other.x + other.width + MARGIN_MM &&
    other.x < one.x + one.width + MARGIN_MM &&
    one.y < other.y + other.height + MARGIN_MM &&
    other.y < one.y + one.height + MARGIN_MM
  );
}

/** Where a finding is on the page of the later file; where it only shows on the dummy's, the same place. */
export function placeOn(finding: Finding): Box | null {
  return finding.revisionBox ?? finding.box;
}

/**
 * How far two boxes are the same: their common area over what they cover together; 1 where both are the whole page.
 *
 * @source common practice, no source
 */
export function overlap(one: Box | null, other: Box | null): number {
  if (one === null || other === null) return one === other ? 1 : 0;
  const width = Math.min(one.x + one.width, other.x + other.width) - Math.max(one.x, other.x);
  const height = Math.min(one.y + one.height, other.y + other.height) - Math.max(one.y, other.y);
  if (width <= 0 || height <= 0) return 0;
  const common = width * height;
  return common / (one.width * one.height + other.width * other.height - common);
}
