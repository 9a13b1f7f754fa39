import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { checkRevision, checkSheets, pageHashes } from '../archive/check/index.ts';
import { askAt } from './client/asking.ts';
import { makeDesk } from './desk.ts';
import type { Desk } from './desk.ts';
import { describeFailure } from './failure-line.ts';
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
  endWithOneLineWhatever(desk);
  const onStop = endOnSignals();
  const stopped = new AbortController();
  onStop(() => Promise.resolve(stopped.abort()));
  const client = {
    desk,
    asking: askAt(process.stdin, process.stderr),
    env: process.env,
    today: () => Date.now(),
    fetch,
    stop: stopped.signal,
  };
  const serving = { environment: process.env, clock: () => Date.now() };
  return runCommand(args, {
    desk,
    checking: checkRevision,
    sheetsChecking: checkSheets,
    hashing: pageHashes,
    onStop,
    client,
    serving,
  });
}

/** What nobody caught ends as every other failure does: one line, the trace for those who asked, exit status 2. */
function endWithOneLineWhatever(desk: Desk): void {
  process.on('uncaughtException', (error) => {
    const { line, trace, exit } = describeFailure(error, desk.verbose);
    desk.err.write(`\n${line}\n${trace === null ? '' : `${trace}\n`}`);
    process.exit(exit);
  });
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
