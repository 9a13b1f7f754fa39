import type { FailedCheck } from './check.ts';

/** What each kind of refusal carries. The list is closed; `command/exit-status.ts` maps it. */
export interface RefusalDetails {
  /** A request, plan or tolerance does not fit its form. */
  readonly malformed: { readonly pointer: string; readonly expected: string; readonly found: string };
  /** Nobody, or a session or token that ran out. */
  readonly unidentified: { readonly reason: string };
  /** Who asks may know of it, but not do this: the right or the role that is missing. */
  readonly 'not-allowed': { readonly what: string; readonly missing: string };
  /** There is none, or whoever asks may not know of it: told in the same words. */
  readonly 'not-found': { readonly what: string };
  /** The state moved on: an old head, a statement taken before, a wrong offset, a dummy that is not in force. */
  readonly 'out-of-step': { readonly what: string; readonly named: string; readonly current: string };
  /** A release while something is open: the findings that stand in its way. */
  readonly unsettled: { readonly what: string; readonly findings: readonly string[] };
  /** Over a stated limit: bytes, pages, pixels, nesting, time. */
  readonly 'too-large': {
    readonly what: string;
    readonly limit: number;
    readonly found: number;
    readonly unit: string;
    readonly page?: number;
  };
  /** Not what it claims to be, damaged, encrypted. */
  readonly unreadable: { readonly file: string; readonly reason: string; readonly page?: number };
  /** A hash, signature, certificate, time-stamp or proof does not hold: every check that failed. */
  readonly unproven: { readonly what: string; readonly checks: readonly FailedCheck[] };
  /** A disk or a worker failed; worth trying again. */
  readonly unavailable: { readonly what: string; readonly reason: string };
}

/** Why something was refused. */
export type RefusalKind = keyof RefusalDetails;

/** The one class that is thrown for what the tool will not do; anything else that is thrown is a bug. */
export class Refusal<K extends RefusalKind = RefusalKind> extends Error {
  override readonly name = 'Refusal';
  readonly kind: K;
  readonly details: RefusalDetails[K];

  constructor(kind: K, details: RefusalDetails[K], cause?: unknown) {
    super(formatRefusal(kind, details), cause === undefined ? undefined : { cause });
    this.kind = kind;
    this.details = details;
  }
}

function formatRefusal<K extends RefusalKind>(kind: K, details: RefusalDetails[K]): string {
  switch (kind) {
    case 'malformed': {
      const { pointer, expected, found } = details as RefusalDetails['malformed'];
      return `${pointer}: ${expected} expected, ${found} found`;
    }
    case 'unidentified':
      return (details as RefusalDetails['unidentified']).reason;
    case 'not-allowed': {
      const { what, missing } = details as RefusalDetails['not-allowed'];
      return `${what}: ${missing} is missing`;
    }
    case 'out-of-step': {
      const { what, named, current } = details as RefusalDetails['out-of-step'];
      return `${what}: ${named} was named, but it is ${current}`;
    }
    case 'unsettled': {
      const { what, findings } = details as RefusalDetails['unsettled'];
      return `${what}: ${findings.length} findings are open (${findings.join(', ')})`;
    }
    case 'not-found':
      return `${(details as RefusalDetails['not-found']).what}: not found`;
    case 'too-large': {
      const { what, limit, found, unit, page } = details as RefusalDetails['too-large'];
      return `${page === undefined ? '' : `page ${page}: `}${what}: at most ${limit} ${unit} allowed, ${found} ${unit} found`;
    }
    case 'unreadable': {
      const { file, reason, page } = details as RefusalDetails['unreadable'];
      return `${file}: ${page === undefined ? '' : `page ${page}: `}${reason}`;
    }
    case 'unproven': {
      const { what, checks } = details as RefusalDetails['unproven'];
      return `${what}: ${checks.map(({ name, expected, found }) => `${name}: ${expected} expected, ${found} found`).join('; ')}`;
    }
    case 'unavailable': {
      const { what, reason } = details as RefusalDetails['unavailable'];
      return `${what}: ${reason}`;
    }
    default:
      return kind;
  }
}
