import type { LogEntryKind } from '../../src/model/index.ts';
import type { Line, Names } from './queries.ts';
import { whoOf } from './record-words.ts';

/** What of a record is wanted. */
export interface Wanted {
  readonly kind: LogEntryKind | 'any';
  /** A day as 2031-03-02; empty for all of them. */
  readonly since: string;
  readonly text: string;
}

/** All of it. */
export const ANYTHING: Wanted = { kind: 'any', since: '', text: '' };

/** The lines that fit. A text is looked for in what people read: names, remarks, ids and hashes. */
export function linesThatFit(lines: readonly Line[], { kind, since, text }: Wanted, names: Names): readonly Line[] {
  const sought = text.trim().toLocaleLowerCase();
  return lines.filter(({ entry, says }) => {
    if (kind !== 'any' && entry.kind !== kind) return false;
    // A moment in UTC begins with its day.
    if (since !== '' && entry.at < since) return false;
    const read = [
      whoOf(entry.by, names),
      entry.remark,
      ...says,
      ...entry.subjects.flatMap(({ id, sha256 }) => [id, sha256 ?? '']),
    ];
    return sought === '' || read.some((one) => one.toLocaleLowerCase().includes(sought));
  });
}
