import {
  canonicalBytes,
  type Check,
  type Instant,
  type Signer,
  type Statement,
  type StatementKind,
  type StatementSubjects,
} from '../model/index.ts';
import { dateOf } from './moment.ts';

/** An archive and a machine whose clocks differ by more than this do not agree on when something is signed. */
const CLOCKS_APART_MS = 60 * 60_000;

/** Some members of an object, and of the objects in it. */
type Some<T> = { readonly [M in keyof T]?: T[M] extends readonly unknown[] | string | number ? T[M] : Some<T[M]> };

/** What a statement must say for it to be what its signer means. The archive drafts it, and is not believed. */
export interface MeantStatement<K extends StatementKind = StatementKind> {
  readonly kind: K;
  readonly title: { readonly id: string; readonly name: string };
  /** Who signs, as their own certificate has it. */
  readonly signer: Signer;
  /** What was shown to the signer and is known here without the archive's word, or from other answers of it. */
  readonly subject: Some<StatementSubjects[K]>;
  /** The signer's own clock. */
  readonly now: Instant;
}

/** What is held against each other: a member of the statement, as `subject/dummy/sha256`. */
export type DraftCheckName = string;

/**
 * Holds a draft against what was meant, member by member: its kind, title, signer and time, and each member of its
 * subject that is known here.
 */
export function checkDraft<K extends StatementKind>(
  statement: Statement,
  meant: MeantStatement<K>,
): readonly Check<DraftCheckName>[] {
  const { kind, title, signer, subject, now } = meant;
  const apartMs = Math.abs(dateOf(statement.at, '/at').getTime() - dateOf(now, '/now').getTime());
  return [
    compare('kind', kind, statement.kind),
    ...members('title', title, statement.title),
    ...members('signer', signer, statement.signer),
    apartMs <= CLOCKS_APART_MS ? { name: 'at', outcome: 'holds' } : compare('at', now, statement.at),
    ...(kind === statement.kind ? members('subject', subject, statement.subject) : []),
  ];
}

function members(path: string, expected: object, found: object): readonly Check<DraftCheckName>[] {
  const there = found as Readonly<Record<string, unknown>>;
  return Object.entries(expected).flatMap(([member, value]: [string, unknown]) => {
    const name = `${path}/${member}`;
    const isPlain = typeof value === 'object' && value !== null && !Array.isArray(value);
    const other = there[member];
    if (isPlain && typeof other === 'object' && other !== null) return members(name, value, other);
    return [compare(name, value, other)];
  });
}

function compare(name: string, expected: unknown, found: unknown): Check<DraftCheckName> {
  const [one, other] = [wordsOf(expected), wordsOf(found)];
  return one === other ? { name, outcome: 'holds' } : { name, outcome: 'fails', expected: one, found: other };
}

function wordsOf(value: unknown): string {
  if (typeof value === 'string') return value;
  return value === undefined ? 'nothing' : new TextDecoder().decode(canonicalBytes(value));
}
