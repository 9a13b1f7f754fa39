import { printable } from '../../reporting/index.ts';
import { EXIT } from '../exit-status.ts';
import { askServer, wholeList } from './ask-server.ts';
import type { ClientCommand } from './client-command.ts';
import type { ListedTitle } from './find-part.ts';
import { SERVER_OPTIONS, serverOf } from './server-options.ts';

/** `titles`: what this person sees, one title a line. */
export const titles: ClientCommand = {
  words: 'titles',
  operands: [],
  says: 'lists the titles that you see: id, name, publisher, printer, and what you are to it',
  options: SERVER_OPTIONS,
  async run(given, tools) {
    const client = askServer(await serverOf(given, tools), tools);
    for (const { id, name, publisher, printer, standing } of await wholeList<ListedTitle>(client, '/api/titles')) {
      tools.desk.out.write(`${[id, name, publisher.name, printer.name, standing ?? ''].map(printable).join('\t')}\n`);
    }
    return EXIT.matches;
  },
};
