import { makeDesk } from '../../src/command/desk.ts';
import type { Desk } from '../../src/command/desk.ts';
import { NOBODY_TO_ASK } from '../../src/command/client/asking.ts';
import type { ClientTools } from '../../src/command/client/client-command.ts';
import type { Running } from '../../src/command/run-command.ts';

/** A desk whose outlets keep what was printed. */
export interface FakeDesk {
  readonly desk: Desk;
  readonly out: () => string;
  readonly err: () => string;
  /** Moves its clock. */
  readonly pass: (ms: number) => void;
}

interface Wanted {
  readonly isTerminal?: boolean;
  readonly columns?: number;
  readonly env?: Readonly<Record<string, string>>;
  readonly folder?: string;
  readonly verbose?: boolean;
}

/** A desk to try commands at: no terminal unless asked for. */
export function fakeDesk({
  isTerminal = false,
  columns = 80,
  env = {},
  folder = '/',
  verbose = false,
}: Wanted = {}): FakeDesk {
  const printed = { out: '', err: '' };
  let clock = 0;
  const stream = (name: 'out' | 'err') => ({
    isTTY: isTerminal,
    columns,
    write: (text: string): boolean => {
      printed[name] += text;
      return true;
    },
  });
  return {
    desk: makeDesk({ stdout: stream('out'), stderr: stream('err'), env, folder, verbose, now: () => clock }),
    out: () => printed.out,
    err: () => printed.err,
    pass: (ms) => (clock += ms),
  };
}

/** What a command over the network works with, in a script: nobody to ask, and a day of 2031. */
export function fakeTools(desk: Desk, more: Partial<ClientTools> = {}): ClientTools {
  return {
    desk,
    asking: NOBODY_TO_ASK,
    env: {},
    today: () => Date.UTC(2031, 4, 2, 9, 30),
    fetch,
    stop: new AbortController().signal,
    ...more,
  };
}

/** What a command line runs with, where nothing but what is named may be used. */
export function fakeRunning(desk: Desk, more: Partial<Running> = {}): Running {
  const never = (): Promise<never> => Promise.reject(new Error('nothing is compared or hashed here'));
  return {
    desk,
    checking: never,
    sheetsChecking: never,
    hashing: never,
    onStop: () => undefined,
    client: fakeTools(desk),
    serving: { environment: {}, clock: () => 0 },
    ...more,
  };
}
