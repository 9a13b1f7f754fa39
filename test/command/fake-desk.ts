import { makeDesk } from '../../src/command/desk.ts';
import type { Desk } from '../../src/command/desk.ts';

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
