import type { StatementKind, StatementOf } from '../../model/index.ts';
import type { Blobs } from '../blobs/index.ts';
import type { Part, Ruling, StatementSubject, Tables, Title } from '../catalogue/index.ts';

/** What a statement is held against: the tables as they stand, the title it names, and when it came in. */
export interface SubjectDesk {
  readonly tables: Tables;
  readonly blobs: Blobs;
  readonly title: Title;
  /** Milliseconds since 1970. */
  readonly at: number;
}

/** What a statement is about, found in the catalogue, and what follows from it beside its own row. */
export interface FoundSubject {
  /** Null: about a certificate. */
  readonly part: Part | null;
  readonly subjects: readonly StatementSubject[];
  readonly rulings: readonly Ruling[];
  /** Written after the statement, in its transaction. */
  readonly follow?: (statementId: string) => Promise<void>;
}

/** Finds the subject of one kind of statement. */
export type SubjectOf<K extends StatementKind> = (
  desk: SubjectDesk,
  statement: StatementOf<K>,
) => Promise<FoundSubject>;
