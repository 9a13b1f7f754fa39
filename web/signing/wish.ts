import type { Check, Party, Statement, StatementKind } from '../../src/model/index.ts';
import type { MeantStatement } from '../../src/sealing/index.ts';

/** What somebody wants to state: how the archive is asked for a draft, and what the draft must say. */
export interface Wish<K extends StatementKind = StatementKind> {
  readonly titleId: string;
  readonly kind: K;
  /** Beside the kind. */
  readonly order: Readonly<Record<string, unknown>>;
  /** What was shown, member by member. */
  readonly subject: MeantStatement<K>['subject'];
  /** What else must hold of the draft. */
  readonly alsoCheck?: (statement: Statement) => readonly Check[];
}

/** A wish of any kind. */
export type AnyWish = { readonly [K in StatementKind]: Wish<K> }[StatementKind];

/** Who signs, on which title. */
export interface SigningSide {
  readonly title: { readonly id: string; readonly name: string };
  readonly party: Party;
}
