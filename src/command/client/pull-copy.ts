import { Refusal } from '../../model/index.ts';
import { EXIT } from '../exit-status.ts';
import { askServer, type ArchiveClient } from './ask-server.ts';
import type { ClientCommand } from './client-command.ts';
import { FILE_OPTION, findFile } from './find-file.ts';
import { findPart, PART_OPTION, TITLE_OPTION } from './find-part.ts';
import { pullInto } from './pull-file.ts';
import { SERVER_OPTIONS, serverOf } from './server-options.ts';

/** `signed-copy FILE`: the dummy in force with its signatories on every page, sealed by the archive. */
export const signedCopy: ClientCommand = {
  words: 'signed-copy',
  operands: ['FILE'],
  says: 'pulls the signed copy of the dummy in force into FILE, a PDF that the archive has sealed',
  options: { title: TITLE_OPTION, part: PART_OPTION, ...SERVER_OPTIONS },
  async run(given, tools) {
    const client = askServer(await serverOf(given, tools), tools);
    const { part } = await findPart(client, given);
    const file = await dummyInForce(client, part);
    await pullInto(client, `/api/files/${file}/signed-copy`, given.operands[0] ?? '', tools);
    return EXIT.matches;
  },
};

/** `print-copy FILE`: a dummy as it goes to paper, with what identifies it on every page, to be signed in ink. */
export const printCopy: ClientCommand = {
  words: 'print-copy',
  operands: ['FILE'],
  says: 'pulls the copy of a dummy that goes to paper, to be signed in ink, into FILE, a PDF',
  options: { title: TITLE_OPTION, part: PART_OPTION, file: FILE_OPTION, ...SERVER_OPTIONS },
  async run(given, tools) {
    const client = askServer(await serverOf(given, tools), tools);
    const { part } = await findPart(client, given);
    const { id } = await findFile(client, { given, partId: part.id, kind: 'dummy' });
    await pullInto(client, `/api/files/${id}/print-copy`, given.operands[0] ?? '', tools);
    return EXIT.matches;
  },
};

async function dummyInForce(
  client: ArchiveClient,
  part: { readonly id: string; readonly name: string },
): Promise<string> {
  const { inForce } = await client.get<{ readonly inForce: string | null }>(`/api/parts/${part.id}/state`);
  if (inForce !== null) return inForce;
  throw new Refusal('not-found', { what: `a dummy in force of ${part.name}` });
}
