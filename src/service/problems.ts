import type { RefusalDetails, RefusalKind } from '../model/index.ts';
import { Refusal } from '../model/index.ts';

/** What every kind of problem is called and how it is answered. `too-many` and `fault` are no refusals of the archive. */
export const PROBLEMS = {
  malformed: { status: 400, title: 'What was sent does not fit its form' },
  unidentified: { status: 401, title: 'Nobody is signed in' },
  'not-allowed': { status: 403, title: 'This may not be done by whoever asks' },
  'not-found': { status: 404, title: 'There is nothing of this name to be seen' },
  'no-such-method': { status: 405, title: 'Nothing like this can be done here' },
  'out-of-step': { status: 409, title: 'Things have moved on' },
  'condition-failed': { status: 412, title: 'Things have moved on since they were looked at' },
  unsettled: { status: 409, title: 'Findings are open' },
  'too-large': { status: 413, title: 'Over a limit' },
  'unfit-media': { status: 415, title: 'Not in a form that is taken here' },
  'no-such-range': { status: 416, title: 'There is no such range of bytes' },
  unreadable: { status: 422, title: 'The file cannot be read' },
  unproven: { status: 422, title: 'A proof does not hold' },
  'too-many': { status: 429, title: 'Asked too often' },
  fault: { status: 500, title: 'A fault in the program itself' },
  unavailable: { status: 503, title: 'Not possible at the moment' },
} as const;

/** The name of a kind of problem, stable for programs. */
export type ProblemKind = keyof typeof PROBLEMS;

/** An answer to whoever asked for what could not be done. @source RFC 9457 3 */
export interface Problem {
  readonly status: number;
  readonly body: Readonly<Record<string, unknown>> & { readonly type: string; readonly status: number };
  readonly headers: Readonly<Record<string, string>>;
}

/** Seconds after which it is worth trying again. */
const RETRY_AFTER_S = '30';

/** Where a kind of problem is described; also its name for programs. */
export function problemType(kind: ProblemKind): string {
  return `/api/problems/${kind}`;
}

/** A problem of one kind. */
export function problem(
  kind: ProblemKind,
  detail: string,
  more: Readonly<Record<string, unknown>> = {},
  headers: Readonly<Record<string, string>> = {},
): Problem {
  const { status, title } = PROBLEMS[kind];
  return { status, body: { type: problemType(kind), title, status, detail, ...more }, headers };
}

/**
 * What was thrown, as an answer; null where it is a bug, which is answered with a number only.
 *
 * @param isConditional  whoever asked named the state that they saw, by If-Match
 */
export function problemOf(error: unknown, isConditional: boolean): Problem | null {
  if (error instanceof Refusal) return refused(error as Refusal, isConditional);
  return isOfParser(error) ? misread(error) : null;
}

/** A bug: nothing of it is told but the number under which it stands in the service's own journal. */
export function faultProblem(number: string): Problem {
  return problem('fault', `Please quote the number ${number} to whoever runs this service.`, { number });
}

function refused({ kind, details, message }: Refusal, isConditional: boolean): Problem {
  if (kind === 'unidentified') return problem(kind, message, {}, { 'WWW-Authenticate': 'Bearer' });
  if (kind === 'unavailable') return problem(kind, message, membersOf(details), { 'Retry-After': RETRY_AFTER_S });
  if (kind === 'out-of-step' && isConditional) return problem('condition-failed', message, membersOf(details));
  return problem(kind, message, membersOf(details));
}

function membersOf(details: RefusalDetails[RefusalKind]): Readonly<Record<string, unknown>> {
  return { ...details };
}

/** What the parsers of bodies and paths throw. */
interface ParserError {
  readonly status: number;
  readonly message: string;
  readonly type?: string;
  readonly limit?: number;
  readonly length?: number;
}

function isOfParser(error: unknown): error is Error & ParserError {
  if (!(error instanceof Error) || !('status' in error) || typeof error.status !== 'number') return false;
  return error.status >= 400 && error.status < 500;
}

function misread({ status, message, limit, length }: ParserError): Problem {
  if (status === 413) {
    const refusal = new Refusal('too-large', {
      what: 'the body',
      limit: limit ?? 0,
      found: length ?? 0,
      unit: 'bytes',
    });
    return refused(refusal, false);
  }
  if (status === 415) return problem('unfit-media', message);
  return refused(new Refusal('malformed', { pointer: 'request', expected: 'well-formed', found: message }), false);
}
