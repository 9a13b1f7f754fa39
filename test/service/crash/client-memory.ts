import type { SignedStatement } from '../../../src/sealing/index.ts';

/** A file on its way in pieces, as its sender knows it. */
export interface Sending {
  readonly bytes: Buffer;
  path: string;
  /** Told to be safe. */
  safe: number;
  /** Put on the line, safe or not. */
  sent: number;
}

/** What the clients hold in their hands when the service is killed: all that it has acknowledged, and what it has not. */
export interface ClientMemory {
  /** Files, by id, with the hash of the bytes that were sent. */
  readonly files: Map<string, string>;
  /** Statements, by id, with what was signed. */
  readonly statements: Map<string, SignedStatement & { readonly logIndex: number }>;
  /** Heads that somebody has seen, by size. */
  readonly heads: Map<number, string>;
  verifierKey: string;
  /** Begun and not known to be a file yet. */
  sending: Sending | null;
  /** Sent at once, without an answer. */
  unanswered: Buffer | null;
  /** Signed and sent, without an answer. */
  unheard: (SignedStatement & { readonly token: string }) | null;
  readonly troubles: string[];
}

/** Nothing yet. */
export function newMemory(): ClientMemory {
  return {
    files: new Map(),
    statements: new Map(),
    heads: new Map(),
    verifierKey: '',
    sending: null,
    unanswered: null,
    unheard: null,
    troubles: [],
  };
}
