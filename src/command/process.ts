import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { checkRevision, pageHashes } from '../archive/index.ts';
import { makeDesk } from './desk.ts';
import { runCommand } from './run-command.ts';
import { endOnSignals } from './stopping.ts';

/** Runs this process's own command line and gives the exit status. */
export async function runWitnessLeaf(): Promise<number> {
  endQuietlyWhereNobodyReads();
  keepScratchTogether();
  const args = process.argv.slice(2);
  const desk = makeDesk({
    stdout: process.stdout,
    stderr: process.stderr,
    env: process.env,
    folder: process.cwd(),
    verbose: args.includes('--verbose'),
    now: () => performance.now(),
  });
  return runCommand(args, { desk, checking: checkRevision, hashing: pageHashes, onStop: endOnSignals() });
}

/** `… | head` closes the pipe early: that is no failure of ours, and the reports are still wanted. */
function endQuietlyWhereNobodyReads(): void {
  for (const stream of [process.stdout, process.stderr]) {
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code !== 'EPIPE') throw error;
    });
  }
}

/**
 * Everything that this run and its workers put aside lies in one folder, which goes when the process does, however it
 * ends; only a kill that no process can answer leaves it behind.
 */
function keepScratchTogether(): void {
  const folder = mkdtempSync(join(tmpdir(), 'witnessleaf-run-'));
  process.env.TMPDIR = folder;
  process.env.TEMP = folder;
  process.on('exit', () => rmSync(folder, { recursive: true, force: true }));
}
