import { EXIT_OF_SIGNAL } from './exit-status.ts';

/** How long a stopped run may take to put its things away. */
const PATIENCE_MS = 3000;

/**
 * Ends the process on SIGINT, SIGTERM and SIGHUP: first everything that was started is undone, the last first, then it
 * exits with the status that shells give to that signal. A second signal ends it at once.
 *
 * @returns where the run says what is to be undone
 */
export function endOnSignals(): (undo: () => Promise<void>, patienceMs?: number) => void {
  const undoing: (() => Promise<void>)[] = [];
  let patience = PATIENCE_MS;
  let isStopping = false;
  for (const [signal, status] of Object.entries(EXIT_OF_SIGNAL)) {
    process.on(signal, () => {
      if (isStopping) process.exit(status);
      isStopping = true;
      setTimeout(() => process.exit(status), patience);
      void undoAll(undoing).then(() => process.exit(status));
    });
  }
  return (undo, patienceMs = PATIENCE_MS) => {
    undoing.push(undo);
    patience = Math.max(patience, patienceMs);
  };
}

async function undoAll(undoing: readonly (() => Promise<void>)[]): Promise<void> {
  for (const undo of [...undoing].reverse()) await undo().catch(() => undefined);
}
