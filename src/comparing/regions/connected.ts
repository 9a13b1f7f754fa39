/** A connected patch of marked cells. Edges in cells: `right` and `bottom` are one past the last. */
export interface Patch {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  /** How many cells. */
  readonly cells: number;
  /** How many of them are marked strongly. */
  readonly strong: number;
}

/** How a cell is marked. */
export const WEAK = 1;
export const STRONG = 2;

/**
 * Patches of marked cells that touch, corners included, and hold at least one strong cell: a strong difference carries
 * its fainter rim with it, a faint one alone says nothing.
 *
 * @param marks  0, WEAK or STRONG for each cell, row by row; kept as it is
 * @param reach  cells that may lie unmarked between two of the same patch
 * @returns larger ones first
 */
export function findPatches(marks: Uint8Array, width: number, height: number, reach = 1): readonly Patch[] {
  const seen = new Uint8Array(marks.length);
  const patches: Patch[] = [];
  const queue: number[] = [];
  for (let start = 0; start < marks.length; start++) {
    if (marks[start] !== STRONG || seen[start] === 1) continue;
    seen[start] = 1;
    queue.length = 0;
    queue.push(start);
    let [left, top, right, bottom, cells, strong] = [width, height, 0, 0, 0, 0];
    for (let head = 0; head < queue.length; head++) {
      const at = queue[head]!;
      const y = (at / width) | 0;
      const x = at - y * width;
      cells++;
      if (marks[at] === STRONG) strong++;
      if (x < left) left = x;
      if (y < top) top = y;
      if (x >= right) right = x + 1;
      if (y >= bottom) bottom = y + 1;
      for (let v = Math.max(0, y - reach); v <= Math.min(height - 1, y + reach); v++) {
        for (let u = Math.max(0, x - reach); u <= Math.min(width - 1, x + reach); u++) {
          const next = v * width + u;
          if (marks[next] !== 0 && seen[next] === 0) {
            seen[next] = 1;
            queue.push(next);
          }
        }
      }
    }
    patches.push({ left, top, right, bottom, cells, strong });
  }
  return patches.sort((one, other) => other.cells - one.cells);
}
