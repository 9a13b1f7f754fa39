import { printable } from '../reporting/index.ts';
import { parseTask } from './arguments.ts';
import { compare } from './compare.ts';
import type { Checking, OnStop } from './compare.ts';
import type { Desk } from './desk.ts';
import { EXIT } from './exit-status.ts';
import { describeFailure } from './failure-line.ts';
import { helpLines } from './help.ts';
import { printPageHashes } from './page-hashes.ts';
import type { Hashing } from './page-hashes.ts';
import { scrub } from './scrub.ts';

/** What a command line needs beside its arguments. */
export interface Running {
  readonly desk: Desk;
  readonly checking: Checking;
  readonly hashing: Hashing;
  readonly onStop: OnStop;
}

/** Runs a command line to its end and gives the exit status; every failure ends as one line on standard error. */
export async function runCommand(args: readonly string[], running: Running): Promise<number> {
  const { desk } = running;
  const task = parseTask(args);
  try {
    switch (task.command) {
      case 'help':
        desk.out.write(
          helpLines(desk.out)
            .map((line) => `${line}\n`)
            .join(''),
        );
        return EXIT.matches;
      case 'wrong':
        desk.err.write(`witnessleaf: ${printable(task.problem)} (--help shows how)\n`);
        return EXIT.failed;
      case 'compare':
        return await compare(task, desk, running.checking, running.onStop);
      case 'page-hashes':
        return await printPageHashes(task.file, desk, running.hashing);
      case 'scrub':
        return await scrub(task.folder, desk);
    }
  } catch (error) {
    const { line, trace, exit } = describeFailure(error, desk.verbose);
    desk.err.write(`${line}\n${trace === null ? '' : `${trace}\n`}`);
    return exit;
  }
}
