import { Refusal } from '../model/index.ts';
import { printable } from '../reporting/report/index.ts';
import { EXIT, exitOfRefusal } from './exit-status.ts';

/** What the machine says when a file cannot be had, in words. */
const SYSTEM_WORDS: Readonly<Record<string, string>> = {
  ENOENT: 'no such file or folder',
  EACCES: 'not allowed',
  EPERM: 'not allowed',
  EISDIR: 'is a folder',
  ENOTDIR: 'a part of the path is no folder',
  ENOSPC: 'the disk is full',
  EROFS: 'the disk is write-protected',
  EMFILE: 'too many open files',
};

/** A failure as one line for standard error, its trace for those who asked for it, and the exit status. */
export interface Failure {
  readonly line: string;
  readonly trace: string | null;
  readonly exit: number;
}

/** Puts what was thrown into one line: a refusal in its own words, a disk's error in plain ones, a bug as such. */
export function describeFailure(error: unknown, verbose: boolean): Failure {
  const trace = verbose ? traceOf(error) : null;
  const failure = (line: string, exit: number): Failure => ({ line: `witnessleaf: ${printable(line)}`, trace, exit });
  if (error instanceof Refusal) {
    const { message, kind } = error as Refusal;
    return failure(message, exitOfRefusal(kind));
  }
  if (isSystemError(error)) {
    return failure(`${error.path}: ${SYSTEM_WORDS[error.code] ?? error.code}`, EXIT.failed);
  }
  const told = error instanceof Error ? error.message : String(error);
  const more = verbose ? '' : ' (--verbose shows where)';
  return failure(`a fault in the program itself: ${told}${more}`, EXIT.failed);
}

function isSystemError(error: unknown): error is Error & { readonly code: string; readonly path: string } {
  return (
    error instanceof Error &&
    'code' in error &&
    typeof error.code === 'string' &&
    'path' in error &&
    typeof error.path === 'string'
  );
}

function traceOf(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const own = error.stack ?? error.message;
  return error.cause === undefined ? own : `${own}\ncaused by: ${traceOf(error.cause)}`;
}
