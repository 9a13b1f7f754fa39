import { CLIENT_COMMANDS } from './client-commands.ts';
import type { ClientTools } from './client-command.ts';
import { findClientCommand, readGiven } from './read-given.ts';
import { refuseLine } from './refuse-line.ts';

/**
 * Runs the command that a line begins with.
 *
 * @returns the exit status; where there is no such command, or its arguments do not fit, that of a failure
 * @throws {Refusal} malformed, not-found, unidentified, not-allowed, out-of-step, unsettled, too-large, unreadable, unproven, unavailable: as the command has it
 */
export async function runClientCommand(line: readonly string[], tools: ClientTools): Promise<number> {
  const found = findClientCommand(line, CLIENT_COMMANDS);
  if (found === null) return refuseLine(whatThereIs(line), tools);
  const given = readGiven(found.rest, found.command);
  return typeof given === 'string' ? refuseLine(given, tools) : found.command.run(given, tools);
}

function whatThereIs([first = '', second]: readonly string[]): string {
  const known = CLIENT_COMMANDS.map(({ words }) => words).filter((words) => words.startsWith(`${first} `));
  if (known.length > 0)
    return `“${first}” goes on: ${known.join(', ')}${second === undefined ? '' : `; “${second}” found`}`;
  return `there is no command “${first}”`;
}
