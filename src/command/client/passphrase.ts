import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { Refusal } from '../../model/index.ts';
import type { ClientOption, ClientTools, Given } from './client-command.ts';

/** How a passphrase is given where nobody sits at the terminal; never on the command line, which others can see. */
export const PASSPHRASE_OPTION: ClientOption = {
  takes: 'FILE',
  says: 'the passphrase is the first line of FILE; without it, you are asked, or WITNESSLEAF_PASSPHRASE is taken',
};

/**
 * The passphrase of a key file: from the file that was named, from the surroundings, or asked for.
 *
 * @param isNew  it is asked for twice, since what was typed cannot be seen
 * @throws {Refusal} not-found: the named file; malformed: nothing was given, or two different ones were typed
 */
export async function passphraseFor(given: Given, tools: ClientTools, isNew = false): Promise<string> {
  const path = given.text('passphrase-file');
  if (path !== null) return firstLine(resolve(tools.desk.folder, path));
  const fromSurroundings = tools.env.WITNESSLEAF_PASSPHRASE ?? '';
  if (fromSurroundings !== '') return fromSurroundings;
  if (!tools.asking.isPossible) throw unfit('--passphrase-file or WITNESSLEAF_PASSPHRASE', 'neither');
  const typed = await tools.asking.hidden(isNew ? 'New passphrase, at least 8 characters: ' : 'Passphrase: ');
  if (isNew && typed !== (await tools.asking.hidden('The same again: ')))
    throw unfit('the same twice', 'two different ones');
  return typed;
}

async function firstLine(path: string): Promise<string> {
  const text = await readFile(path, 'utf8').catch(() => {
    throw new Refusal('not-found', { what: path });
  });
  return text.split(/\r?\n/)[0] ?? '';
}

function unfit(expected: string, found: string): Refusal {
  return new Refusal('malformed', { pointer: 'passphrase', expected, found });
}
