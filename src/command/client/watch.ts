import { mkdir, rename, stat, writeFile } from 'node:fs/promises';
import { join, parse, resolve } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { isDeepStrictEqual } from 'node:util';
import { Refusal } from '../../model/index.ts';
import { printable } from '../../reporting/index.ts';
import { EXIT } from '../exit-status.ts';
import { askServer, wholeList, type ArchiveClient } from './ask-server.ts';
import type { ClientCommand, ClientTools, Given } from './client-command.ts';
import { FILE_OPTIONS, fileKindOf } from './file-options.ts';
import { findPart } from './find-part.ts';
import { refuseLine } from './refuse-line.ts';
import { FOLDING_OPTIONS, foldingGiven, sendFolding } from './send-folding.ts';
import { openSent, type SentBytes } from './sent-bytes.ts';
import { sendingFor } from './sending.ts';
import { serverOf } from './server-options.ts';
import { lookInto, settledFiles, type LookedAt } from './settled-files.ts';
import { uploadFile, type FileToSend } from './upload-file.ts';

const LOOK_SECONDS = { usual: 5, most: 3600 };

/**
 * `watch FOLDER`: a folder whose files are sent by themselves, and then lie in `sent` or `refused` beside it.
 *
 * @throws {Refusal} not-found: there is no such folder
 */
export const watch: ClientCommand = {
  words: 'watch',
  operands: ['FOLDER'],
  says: 'sends every file that is put into FOLDER, for plates every folder of TIFFs as one, then moves it to FOLDER/sent, or with the reason to FOLDER/refused',
  options: {
    ...FILE_OPTIONS,
    ...FOLDING_OPTIONS,
    every: { takes: 'SECONDS', says: `between two looks; ${LOOK_SECONDS.usual} where nothing is said` },
    once: { takes: null, says: 'sends what is there and ends' },
  },
  async run(given, tools) {
    const { desk, stop } = tools;
    const folder = resolve(desk.folder, given.operands[0] ?? '');
    if ((await stat(folder).catch(() => null))?.isDirectory() !== true)
      throw new Refusal('not-found', { what: folder });
    const waitMs = secondsOf(given) * 1000;
    const said = foldingGiven(given);
    if (typeof said === 'string') return refuseLine(said, tools);
    const client = askServer(await serverOf(given, tools), tools);
    const kind = fileKindOf(given, { isFolded: said !== null });
    const { part } = await findPart(client, given);
    const folding = said === null ? null : await sendFolding(client, part.id, said, desk.folder);
    const told = { partId: part.id, kind, remark: given.text('remark') ?? '', pages: null, folding };
    desk.err.write(printable(`watching ${folder}`) + '\n');
    const look = () => lookInto(folder, { folders: kind === 'plates-input' });
    let before = await look();
    let refused = 0;
    while (!stop.aborted) {
      await pause(waitMs, undefined, { signal: stop }).catch(() => undefined);
      if (stop.aborted) break;
      const now = await look();
      for (const file of settledFiles(before, now)) refused += await sendOne(client, { folder, file, told }, tools);
      if (given.isSet('once') && (await look()).length === 0) break;
      before = now;
    }
    return refused === 0 ? EXIT.matches : EXIT.differs;
  },
};

interface Found {
  readonly folder: string;
  readonly file: LookedAt;
  readonly told: Omit<FileToSend, 'source'>;
}

/** Sends a file and puts it away. What failed for a time stays where it is and is tried at the next look. */
async function sendOne(client: ArchiveClient, { folder, file, told }: Found, tools: ClientTools): Promise<0 | 1> {
  const { desk } = tools;
  const path = join(folder, file.name);
  const say = (text: string): void => desk.out.write(`${printable(`${file.name}: ${text}`)}\n`);
  try {
    requireTogether(file);
    const source = await openSent([path]);
    const sending = sendingFor(source.name, tools);
    const known = await alreadySent(client, source, told);
    const id = known ?? (await uploadFile(client, { source, ...told }, sending).finally(sending.done));
    await putAway(folder, 'sent', file.name, `sent as ${id}\n`);
    say(known === null ? `sent as ${id}` : `is there already as ${id}`);
    return 0;
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const { kind, message } = error as Refusal;
    if (kind === 'unavailable' || kind === 'unidentified') {
      say(`${message}; it stays here and is tried again`);
      return 0;
    }
    await putAway(folder, 'refused', file.name, `${message}\n`);
    say(`refused: ${message}`);
    return 1;
  }
}

/** One plate is no side: which belong together is said by the folder that they lie in. */
function requireTogether({ name, isFolder }: LookedAt): void {
  if (isFolder || !/\.tiff?$/i.test(name)) return;
  throw new Refusal('unreadable', { file: name, reason: 'plates are put into a folder of their own within this one' });
}

/** The last file of the part where it is this one: a run that was killed after sending, before putting away. */
async function alreadySent(client: ArchiveClient, { sha256 }: SentBytes, told: Found['told']): Promise<string | null> {
  type Listed = Pick<FileToSend, 'kind' | 'folding'> & { readonly id: string; readonly sha256: string };
  const last = (await wholeList<Listed>(client, `/api/parts/${told.partId}/files`)).at(-1);
  const isThis = last?.kind === told.kind && last.sha256 === sha256 && isDeepStrictEqual(last.folding, told.folding);
  return isThis ? last.id : null;
}

/** Moves a file, under a name that is free, with a note beside it. */
async function putAway(folder: string, where: 'sent' | 'refused', name: string, note: string): Promise<void> {
  const target = join(folder, where);
  await mkdir(target, { recursive: true });
  const { name: stem, ext } = parse(name);
  let free = name;
  for (let count = 2; (await stat(join(target, free)).catch(() => null)) !== null; count += 1) {
    free = `${stem} (${count})${ext}`;
  }
  await rename(join(folder, name), join(target, free));
  await writeFile(join(target, `${free}.txt`), note);
}

function secondsOf(given: Given): number {
  const named = given.text('every') ?? `${LOOK_SECONDS.usual}`;
  const seconds = Number(named);
  if (seconds >= 0.05 && seconds <= LOOK_SECONDS.most) return seconds;
  throw new Refusal('malformed', { pointer: '--every', expected: `up to ${LOOK_SECONDS.most}`, found: named });
}
