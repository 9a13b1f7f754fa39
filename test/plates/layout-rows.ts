import type { FoldedSheet } from '../../src/plates/index.ts';

/** A side of a folded sheet as books on the trade print it: page, head up `^` or down `v`, row by row. */
export function layoutRows({ rows, columns, leaves }: FoldedSheet, side: 'front' | 'back'): string[] {
  return Array.from({ length: rows }, (_row, row) =>
    Array.from({ length: columns }, (_column, column) => {
      const onFront = side === 'front' ? column : columns - 1 - column;
      const index = leaves.findIndex((leaf) => leaf.row === row && leaf.column === onFront);
      const leaf = leaves[index]!;
      return `${2 * index + (leaf.oddPageOn === side ? 1 : 2)}${leaf.headUp ? '^' : 'v'}`;
    }).join(' '),
  );
}
