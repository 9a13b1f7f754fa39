import { printable } from '../../reporting/index.ts';
import { EXIT } from '../exit-status.ts';
import { askServer, wholeList } from './ask-server.ts';
import type { ClientCommand } from './client-command.ts';
import type { ListedCertificate } from './find-certificate.ts';
import { findTitle, TITLE_OPTION } from './find-part.ts';
import { SERVER_OPTIONS, serverOf } from './server-options.ts';

/** `key list`: who has introduced which key for a title, and how each stands with the other side. */
export const keyList: ClientCommand = {
  words: 'key list',
  operands: [],
  says: 'lists the keys of both sides of a title: fingerprint, introduced, confirmed or revoked, whose',
  options: { title: TITLE_OPTION, ...SERVER_OPTIONS },
  async run(given, tools) {
    const client = askServer(await serverOf(given, tools), tools);
    const title = await findTitle(client, given);
    const path = `/api/titles/${title.id}/certificates`;
    for (const one of await wholeList<ListedCertificate & { readonly state: string }>(client, path)) {
      const { fingerprint, state, name, organisation } = one;
      tools.desk.out.write(`${[fingerprint, state, `${name}, ${organisation}`].map(printable).join('\t')}\n`);
    }
    return EXIT.matches;
  },
};
