import type { Account, Decision, Instant, Sha256, StatementKind } from '../../model/index.ts';

/** What is to be stated on a file. */
interface OnFile {
  readonly fileId: string;
}

interface ForReason {
  /** In the signer's words; it is signed with the rest. */
  readonly reason: string;
}

/** What each kind of statement needs to be told; the archive knows the rest. */
export interface StatementOrders {
  readonly 'key-confirmation': { readonly titleId: string; readonly certificate: Sha256 };
  readonly 'sign-off': OnFile;
  readonly ruling: {
    readonly reportId: string;
    /** By their ids in the report or in the archive. */
    readonly findings: readonly string[];
    readonly decision: Decision;
    readonly account: Account;
  };
  readonly release: OnFile;
  readonly revocation: ForReason & {
    readonly titleId: string;
    readonly certificate: Sha256;
    /** Without it, from now on. */
    readonly from?: Instant;
  };
  readonly withdrawal: OnFile & ForReason;
  readonly replacement: OnFile & ForReason;
}

/** What somebody wants to state. */
export type StatementOrder = {
  [K in StatementKind]: StatementOrders[K] & {
    readonly kind: K;
    /** With which certificate they will sign; else the one of theirs that was introduced last and will do. */
    readonly signWith?: Sha256;
  };
}[StatementKind];

/** What is wanted of one kind. */
export type OrderOf<K extends StatementKind> = StatementOrder & { readonly kind: K };
