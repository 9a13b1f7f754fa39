import type { RefusalKind } from '../model/index.ts';

/** How a program that ran to its end says what came of it, as `diff` does. */
export const EXIT = { matches: 0, differs: 1, failed: 2 } as const;

const OF_REFUSAL: Readonly<Record<RefusalKind, number>> = {
  malformed: EXIT.failed,
  unidentified: EXIT.failed,
  'not-allowed': EXIT.failed,
  'not-found': EXIT.failed,
  'out-of-step': EXIT.failed,
  unsettled: EXIT.differs,
  'too-large': EXIT.failed,
  unreadable: EXIT.failed,
  unproven: EXIT.differs,
  unavailable: EXIT.failed,
};

/** The exit status for a refusal of this kind. */
export function exitOfRefusal(kind: RefusalKind): number {
  return OF_REFUSAL[kind];
}

/** The signals that end a run, with their exit status. @source common practice, no source: 128 and the signal's number */
export const EXIT_OF_SIGNAL = { SIGHUP: 129, SIGINT: 130, SIGTERM: 143 } as const;
