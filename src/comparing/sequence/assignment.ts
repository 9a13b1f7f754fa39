import { Refusal } from '../../model/index.ts';

/**
 * Pairs rows with columns, each at most once, as many as there can be, so that the costs add up to the least.
 * For pictures of one page with those of the other. Takes about rows x rows x columns steps (the shorter side twice).
 *
 * @param cost  one list a row, all equally long; finite numbers, of either sign
 * @returns for each row its column, or null where there are more rows than columns and the row went without
 * @throws {Refusal} malformed: rows of unequal length, or a cost that is not finite
 * @source shortest augmenting paths: Jonker, Volgenant, Computing 38 (1987), from memory; values in
 *   test/standards/sequences
 */
export function assign(cost: readonly (readonly number[])[]): (number | null)[] {
  requireTable(cost);
  const rows = cost.length;
  const columns = cost[0]?.length ?? 0;
  if (rows <= columns) return rowsToColumns(rows, columns, (row, column) => cost[row]![column]!);
  const result = new Array<number | null>(rows).fill(null);
  rowsToColumns(columns, rows, (column, row) => cost[row]![column]!).forEach((row, column) => (result[row] = column));
  return result;
}

function requireTable(cost: readonly (readonly number[])[]): void {
  cost.forEach((row, index) => {
    if (row.length !== cost[0]!.length) {
      throw new Refusal('malformed', {
        pointer: `cost/${index}`,
        expected: `${cost[0]!.length} numbers`,
        found: `${row.length}`,
      });
    }
    const bad = row.findIndex((value) => !Number.isFinite(value));
    if (bad >= 0) {
      throw new Refusal('malformed', {
        pointer: `cost/${index}/${bad}`,
        expected: 'a finite number',
        found: `${row[bad]}`,
      });
    }
  });
}

/** Every row gets a column; there are at least as many columns as rows. Prices keep all reduced costs at 0 or above. */
function rowsToColumns(rows: number, columns: number, costOf: (row: number, column: number) => number): number[] {
  const rowPrice = new Float64Array(rows);
  const columnPrice = new Float64Array(columns);
  const rowOf = new Int32Array(columns).fill(-1);
  for (let start = 0; start < rows; start++) {
    // Dijkstra from the new row over reduced costs to the nearest free column.
    const distance = new Float64Array(columns).fill(Infinity);
    const cameFrom = new Int32Array(columns).fill(-1);
    const settled = new Uint8Array(columns);
    let row = start;
    let reached = -1;
    let length = 0;
    for (;;) {
      let next = -1;
      for (let column = 0; column < columns; column++) {
        if (settled[column] === 1) continue;
        const through = length + costOf(row, column) - rowPrice[row]! - columnPrice[column]!;
        if (through < distance[column]!) {
          distance[column] = through;
          cameFrom[column] = reached;
        }
        if (next < 0 || distance[column]! < distance[next]!) next = column;
      }
      settled[next] = 1;
      length = distance[next]!;
      reached = next;
      if (rowOf[next] === -1) break;
      row = rowOf[next]!;
    }
    rowPrice[start]! += length;
    for (let column = 0; column < columns; column++) {
      if (settled[column] === 0 || column === reached) continue;
      rowPrice[rowOf[column]!]! += length - distance[column]!;
      columnPrice[column]! -= length - distance[column]!;
    }
    for (let column = reached; column >= 0; column = cameFrom[column]!) {
      const previous = cameFrom[column]!;
      rowOf[column] = previous < 0 ? start : rowOf[previous]!;
    }
  }
  const columnOf = new Array<number>(rows).fill(-1);
  rowOf.forEach((row, column) => {
    if (row >= 0) columnOf[row] = column;
  });
  return columnOf;
}
