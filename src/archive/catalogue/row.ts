/** A row as the database gives it. */
export type Row = Readonly<Record<string, null | number | bigint | string | Uint8Array>>;

/** A column that always holds text. Here and below: another type means that the query does not fit its reader, a bug. */
export function textIn(row: Row, column: string): string {
  const value = row[column];
  return typeof value === 'string' ? value : misread(column, 'text');
}

/** A column of text or nothing. */
export function textOrNullIn(row: Row, column: string): string | null {
  return row[column] === null ? null : textIn(row, column);
}

/** A column that always holds a number. */
export function numberIn(row: Row, column: string): number {
  const value = row[column];
  return typeof value === 'number' ? value : misread(column, 'a number');
}

/** A column of a number or nothing. */
export function numberOrNullIn(row: Row, column: string): number | null {
  return row[column] === null ? null : numberIn(row, column);
}

/** A column that always holds bytes. */
export function bytesIn(row: Row, column: string): Uint8Array {
  const value = row[column];
  return value instanceof Uint8Array ? value : misread(column, 'bytes');
}

/** A column of one of a closed list of words. */
export function wordIn<T extends string>(row: Row, column: string, words: readonly T[]): T {
  const value = textIn(row, column);
  return words.find((word) => word === value) ?? misread(column, words.join(' or '));
}

function misread(column: string, expected: string): never {
  throw new TypeError(`column ${column} of the catalogue: ${expected} expected`);
}
