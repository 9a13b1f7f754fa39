import type { LogEntry, Statement } from '../../../model/index.ts';
import type { PackFacts } from '../../../evidence/index.ts';

/** From what an account is told: nothing of it is asked of the archive, so that whoever has the pack can tell it again. */
export interface AccountSource {
  readonly facts: PackFacts;
  /** What the entries of the log say, by their index. */
  readonly entries: ReadonlyMap<number, LogEntry>;
  /** What was signed, by the index of its entry. */
  readonly statements: ReadonlyMap<number, Statement>;
}

/** A piece of an account. */
export type Block =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  /** Terms and what they are. */
  | { readonly kind: 'terms'; readonly rows: readonly (readonly [string, string])[] }
  /** What happened, one line each: when, and what; with the index of its entry where there is one. */
  | {
      readonly kind: 'events';
      readonly events: readonly { readonly at: string; readonly says: string; readonly entry: number | null }[];
    }
  /** Pictures of the pack, side by side. */
  | {
      readonly kind: 'pictures';
      readonly pictures: readonly { readonly member: string; readonly caption: string }[];
    }
  | {
      readonly kind: 'table';
      readonly columns: readonly { readonly title: string; readonly share: number }[];
      readonly rows: readonly (readonly string[])[];
    };

/** A part of an account under its heading. */
export interface Section {
  readonly heading: string;
  readonly blocks: readonly Block[];
}

/** Who did what when, in plain words. */
export interface Account {
  readonly title: string;
  readonly subtitle: string;
  readonly sections: readonly Section[];
}
