import { resolve } from 'node:path';
import { printable } from '../../reporting/index.ts';
import { EXIT } from '../exit-status.ts';
import { askServer } from './ask-server.ts';
import type { ClientCommand } from './client-command.ts';
import { FILE_OPTIONS, fileKindOf } from './file-options.ts';
import { findPart } from './find-part.ts';
import { openSent } from './sent-bytes.ts';
import { refuseLine } from './refuse-line.ts';
import { FOLDING_OPTIONS, foldingGiven, sendFolding } from './send-folding.ts';
import { sendingFor } from './sending.ts';
import { serverOf } from './server-options.ts';
import { uploadFile } from './upload-file.ts';

/** `send FILE…`: one file, or plates as one, into a part; a break is no harm, the next run goes on. */
export const send: ClientCommand = {
  words: 'send',
  operands: ['FILE…'],
  says: 'sends FILE into a part, or several TIFF plates, or a folder of them, as one; after a break the same command goes on where it stopped',
  options: {
    ...FILE_OPTIONS,
    pages: { takes: '12-13', says: 'only these pages are supplied again; they are laid over the latest file' },
    ...FOLDING_OPTIONS,
  },
  async run(given, tools) {
    const { desk } = tools;
    const said = foldingGiven(given);
    if (typeof said === 'string') return refuseLine(said, tools);
    const client = askServer(await serverOf(given, tools), tools);
    const { title, part } = await findPart(client, given);
    const folding = said === null ? null : await sendFolding(client, part.id, said, desk.folder);
    const source = await openSent(given.operands.map((path) => resolve(desk.folder, path)));
    const kind = fileKindOf(given, { name: source.name, isFolded: said !== null });
    const remark = given.text('remark') ?? '';
    const file = { source, partId: part.id, kind, remark, pages: given.text('pages'), folding };
    const sending = sendingFor(source.name, tools);
    const id = await uploadFile(client, file, sending).finally(sending.done);
    desk.out.write(`${id}\n`);
    desk.err.write(`${printable(`${source.name} was sent into “${title.name}”, ${part.name}`)}\n`);
    return EXIT.matches;
  },
};
