import { words } from '../words/index.ts';
import type { Line, Names } from './queries.ts';

/** What begins so is taken for a formula by programs that open tables. */
const FORMULA = /^[=+\-@\t\r]/;

/** Lines of a record as a table. @source RFC 4180 2 */
export function recordAsCsv(lines: readonly Line[], names: Names): string {
  const rows = lines.map(({ index, leafHash, says, entry: { at, kind, by, remark, subjects } }) => [
    String(index),
    at,
    kind,
    by.party,
    by.person === null ? '' : (names.get(by.person) ?? by.person),
    [remark, ...says].filter((text) => text !== '').join(' '),
    subjects.map(({ what, id, sha256 }) => `${what} ${sha256 ?? id}`).join('; '),
    leafHash,
  ]);
  return [words.archive.columns, ...rows].map((row) => `${row.map(cell).join(',')}\r\n`).join('');
}

/** Lines of a record as the log keeps them. */
export function recordAsJson(lines: readonly Line[]): string {
  return `${JSON.stringify(
    lines.map(({ index, leafHash, entry }) => ({ index, leafHash, entry })),
    null,
    2,
  )}\n`;
}

function cell(text: string): string {
  const safe = FORMULA.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replace(/"/g, '""')}"` : safe;
}
