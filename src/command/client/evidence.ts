import { Refusal } from '../../model/index.ts';
import { EXIT } from '../exit-status.ts';
import { askServer, type ArchiveClient } from './ask-server.ts';
import type { ClientCommand, Given } from './client-command.ts';
import { findPart, findTitle, TITLE_OPTION } from './find-part.ts';
import { pullInto } from './pull-file.ts';
import { SERVER_OPTIONS, serverOf } from './server-options.ts';

/** `evidence FILE`: the evidence pack of a title, a part or a page. */
export const evidence: ClientCommand = {
  words: 'evidence',
  operands: ['FILE'],
  says: 'pulls the evidence pack of a title into FILE, a ZIP that anybody can verify without this program',
  options: {
    title: TITLE_OPTION,
    part: { takes: 'NAME', says: 'only of this part, by its name or id' },
    page: { takes: 'N', says: 'only of this page of the dummy; with --part where the title has several' },
    'hashes-only': { takes: null, says: 'without the files themselves' },
    ...SERVER_OPTIONS,
  },
  async run(given, tools) {
    const client = askServer(await serverOf(given, tools), tools);
    const query = new URLSearchParams({ contents: given.isSet('hashes-only') ? 'hashes' : 'files' });
    const { titleId, partId, page } = await scopeOf(client, given);
    if (partId !== null) query.set('part', partId);
    if (page !== null) query.set('page', page);
    await pullInto(client, `/api/titles/${titleId}/evidence?${query.toString()}`, given.operands[0] ?? '', tools);
    return EXIT.matches;
  },
};

interface Scope {
  readonly titleId: string;
  readonly partId: string | null;
  readonly page: string | null;
}

async function scopeOf(client: ArchiveClient, given: Given): Promise<Scope> {
  const page = given.text('page');
  if (page !== null && !/^[1-9]\d{0,5}$/.test(page)) {
    throw new Refusal('malformed', { pointer: '--page', expected: 'a page of the dummy, from 1', found: page });
  }
  if (page === null && given.text('part') === null) {
    return { titleId: (await findTitle(client, given)).id, partId: null, page };
  }
  const { title, part } = await findPart(client, given);
  return { titleId: title.id, partId: part.id, page };
}
