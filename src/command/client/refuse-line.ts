import { printable } from '../../reporting/index.ts';
import { EXIT } from '../exit-status.ts';
import type { ClientTools } from './client-command.ts';

/** Says that what was typed does not fit. @returns the exit status of a failure */
export function refuseLine(says: string, { desk }: Pick<ClientTools, 'desk'>): number {
  desk.err.write(`witnessleaf: ${printable(says)} (--help shows how)\n`);
  return EXIT.failed;
}
