import { NOBODY_TO_ASK } from '../../src/command/client/asking.ts';
import { makeDesk } from '../../src/command/desk.ts';
import { checkRevision, checkSheets, pageHashes } from '../../src/archive/index.ts';
import { runCommand } from '../../src/command/run-command.ts';
import type { Home, Ran, RunProgram } from './stage.ts';

/** Runs the program's command line in this process: the same, without the time that a process takes to start. */
export const runInProcess: RunProgram = (home, words) => runAsking(fetch, home, words);

/** The same with another way to reach the archive. */
export async function runAsking(
  fetchIt: typeof fetch,
  { folder, environment }: Home,
  words: readonly string[],
): Promise<Ran> {
  const printed = { out: '', err: '' };
  const stream = (name: 'out' | 'err') => ({
    write: (text: string): boolean => {
      printed[name] += text;
      return true;
    },
  });
  const desk = makeDesk({
    stdout: stream('out'),
    stderr: stream('err'),
    env: environment,
    folder,
    verbose: false,
    now: () => performance.now(),
  });
  const exit = await runCommand(words, {
    desk,
    checking: checkRevision,
    sheetsChecking: checkSheets,
    hashing: pageHashes,
    onStop: () => undefined,
    client: {
      desk,
      asking: NOBODY_TO_ASK,
      env: environment,
      today: () => Date.now(),
      fetch: fetchIt,
      stop: new AbortController().signal,
    },
    serving: { environment, clock: () => Date.now() },
  });
  return { exit, ...printed };
}
