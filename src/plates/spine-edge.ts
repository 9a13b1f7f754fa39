import type { Box } from '../model/index.ts';
import type { Cell, Plan } from './plan.ts';

/**
 * Towards which edge of its box a page's spine lies, as its side is looked at.
 * Odd pages of a book that reads to the right have their spine at their left.
 */
export function spineEdge(
  { page, turnDeg }: { readonly page: number; readonly turnDeg: Cell['turnDeg'] },
  reads: Plan['reads'],
): 'left' | 'top' | 'right' | 'bottom' {
  const atLeft = (page % 2 === 1) === (reads === 'left-to-right');
  const edges = ['left', 'top', 'right', 'bottom'] as const;
  return edges[((atLeft ? 0 : 2) + turnDeg / 90) % 4]!;
}

/** A cell's box before creep moved it towards the spine; a blank's stays where it is. */
export function boxWithoutCreep({ page, turnDeg, box, creepMm }: Cell, reads: Plan['reads']): Box {
  if (page === null || creepMm === 0) return box;
  switch (spineEdge({ page, turnDeg }, reads)) {
    case 'left':
      return { ...box, x: box.x + creepMm };
    case 'right':
      return { ...box, x: box.x - creepMm };
    case 'top':
      return { ...box, y: box.y + creepMm };
    case 'bottom':
      return { ...box, y: box.y - creepMm };
  }
}
