import type { WriteStream } from 'node:tty';

/** A place to print to. */
export interface Outlet {
  write(text: string): void;
  /** A person looks at it, and it understands control codes. */
  readonly isTerminal: boolean;
  readonly columns: number;
  readonly hasColour: boolean;
}

/** What a command works at: where it prints, where the person stands, and the clock. */
export interface Desk {
  readonly out: Outlet;
  readonly err: Outlet;
  /** The folder that relative paths start from. */
  readonly folder: string;
  readonly verbose: boolean;
  now(): number;
}

/** The surroundings that a desk is made from. */
export interface Surroundings {
  readonly stdout: Pick<WriteStream, 'write'> & { readonly isTTY?: boolean; readonly columns?: number };
  readonly stderr: Surroundings['stdout'];
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly folder: string;
  readonly verbose: boolean;
  now(): number;
}

const WIDTH = { least: 40, usual: 80 };

/**
 * The desk of a process. npm starts scripts in the project's folder and says in `INIT_CWD` where the person stood;
 * `NO_COLOR` (any value) and a dumb terminal are respected.
 */
export function makeDesk(from: Surroundings): Desk {
  const { env } = from;
  const outlet = (stream: Surroundings['stdout']): Outlet => {
    const isTerminal = stream.isTTY === true && env.TERM !== 'dumb';
    return {
      write: (text) => void stream.write(text),
      isTerminal,
      columns: Math.max(WIDTH.least, stream.columns ?? WIDTH.usual),
      hasColour: isTerminal && (env.NO_COLOR ?? '') === '',
    };
  };
  const start = env.INIT_CWD ?? '';
  return {
    out: outlet(from.stdout),
    err: outlet(from.stderr),
    folder: start === '' ? from.folder : start,
    verbose: from.verbose,
    now: () => from.now(),
  };
}
