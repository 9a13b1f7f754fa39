import { parseArgs } from 'node:util';
import type { ClientCommand, Given } from './client-command.ts';

/** The command whose words the line begins with, and what is left of the line; null where there is none such. */
export function findClientCommand(
  args: readonly string[],
  commands: readonly ClientCommand[],
): { readonly command: ClientCommand; readonly rest: readonly string[] } | null {
  for (const command of commands) {
    const words = command.words.split(' ');
    if (words.every((word, at) => args[at] === word)) return { command, rest: args.slice(words.length) };
  }
  return null;
}

/** Reads what stands after a command's words; a sentence where it does not fit. */
export function readGiven(rest: readonly string[], { words, operands, options }: ClientCommand): Given | string {
  const shape = Object.fromEntries(
    Object.entries(options).map(([name, { takes }]) => [
      name,
      { type: takes === null ? ('boolean' as const) : ('string' as const) },
    ]),
  );
  try {
    const read = parseArgs({
      args: [...rest],
      options: { ...shape, verbose: { type: 'boolean' } },
      allowPositionals: true,
      strict: true,
    });
    const { positionals } = read;
    const values: Readonly<Record<string, string | boolean | undefined>> = read.values;
    const wanted = operands.length === 0 ? 'nothing' : operands.join(' ');
    const isOpen = operands.at(-1)?.endsWith('…') === true;
    const fits = isOpen ? positionals.length >= operands.length : positionals.length === operands.length;
    if (!fits) return `${words} takes ${wanted}; ${positionals.length} were given`;
    const empty = Object.entries(values).find(([, value]) => value === '')?.[0];
    if (empty !== undefined) return `--${empty} is empty`;
    const missing = Object.entries(options).find(([name, { needed }]) => needed === true && values[name] === undefined);
    if (missing !== undefined) return `${words} needs --${missing[0]} ${missing[1].takes ?? ''}`.trim();
    return {
      operands: positionals,
      text: (name) => {
        const value = values[name];
        return typeof value === 'string' ? value : null;
      },
      isSet: (name) => values[name] === true,
    };
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    return error.message.split(/\.\s/)[0] ?? error.message;
  }
}
