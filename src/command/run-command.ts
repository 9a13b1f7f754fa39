import { printable } from '../reporting/report/index.ts';
import { resolve } from 'node:path';
import { parseTask } from './arguments.ts';
import type { CompareTask } from './arguments.ts';
import { compare } from './compare.ts';
import type { Checking, OnStop } from './compare.ts';
import type { ClientTools } from './client/client-command.ts';
import type { Desk } from './desk.ts';
import { EXIT } from './exit-status.ts';
import { describeFailure } from './failure-line.ts';
import { helpLines } from './help.ts';
import { imposedChecking } from './imposed.ts';
import type { SheetsChecking } from './imposed.ts';
import { printPageHashes } from './page-hashes.ts';
import type { Hashing } from './page-hashes.ts';
import type { Serving } from './serve.ts';

/** What a command line needs beside its arguments. */
export interface Running {
  readonly desk: Desk;
  readonly checking: Checking;
  readonly sheetsChecking: SheetsChecking;
  readonly hashing: Hashing;
  readonly onStop: OnStop;
  /** For the commands that ask an archive over the network, or make keys. */
  readonly client: ClientTools;
  readonly serving: Omit<Serving, 'onStop'>;
}

/** Runs a command line to its end and gives the exit status; every failure ends as one line on standard error. */
export async function runCommand(args: readonly string[], running: Running): Promise<number> {
  const { desk } = running;
  try {
    const task = parseTask(args);
    switch (task.command) {
      case 'help': {
        const { CLIENT_COMMANDS } = await import('./client/client-commands.ts');
        desk.out.write(
          helpLines(desk.out, CLIENT_COMMANDS)
            .map((line) => `${line}\n`)
            .join(''),
        );
        return EXIT.matches;
      }
      case 'client': {
        // loaded when asked for: keys and proofs are no part of a comparison, which has to start quickly
        const { runClientCommand } = await import('./client/run-client-command.ts');
        return await runClientCommand(task.words, running.client);
      }
      case 'wrong':
        desk.err.write(`witnessleaf: ${printable(task.problem)} (--help shows how)\n`);
        return EXIT.failed;
      case 'compare':
        return await compare(task, desk, await checkingOf(task, running), running.onStop);
      case 'page-hashes':
        return await printPageHashes(task.file, desk, running.hashing);
      case 'scrub': {
        const { scrub } = await import('./scrub.ts');
        return await scrub(task.folder, desk);
      }
      case 'backup': {
        const { backup } = await import('./backup.ts');
        return await backup(task.folder, task.copy, desk, running.serving.clock());
      }
      case 'serve': {
        // Its libraries are many, and no other command needs them.
        const { serve } = await import('./serve.ts');
        return await serve(desk, { ...running.serving, onStop: running.onStop });
      }
      case 'verify': {
        const { verify } = await import('./verify.ts');
        return await verify(task, desk);
      }
    }
  } catch (error) {
    const { line, trace, exit } = describeFailure(error, desk.verbose);
    desk.err.write(`${line}\n${trace === null ? '' : `${trace}\n`}`);
    return exit;
  }
}

/** Sheets are folded first and then compared like any book. */
async function checkingOf({ imposed }: CompareTask, { desk, checking, sheetsChecking }: Running): Promise<Checking> {
  return imposed === null ? checking : imposedChecking(imposed, (path) => resolve(desk.folder, path), sheetsChecking);
}
