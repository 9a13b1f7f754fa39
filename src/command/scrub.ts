import { resolve } from 'node:path';
import { isSound, scrubArchive } from '../archive/index.ts';
import type { Scrubbing } from '../archive/index.ts';
import { formatBytes, printable } from '../reporting/report/index.ts';
import type { Desk } from './desk.ts';
import { EXIT } from './exit-status.ts';

/** How often a person who waits is told. */
const TELL_MS = 200;

/**
 * Reads an archive again and prints what is wrong with it, one line each, and what is only worth knowing.
 *
 * @returns the exit status: 0 where the archive is whole, 1 where it is not
 * @throws {Refusal} as `scrubArchive`
 */
export async function scrub(folder: string, desk: Desk): Promise<number> {
  const { err, out } = desk;
  let toldAt = -Infinity;
  const clear = (): void => {
    if (toldAt > -Infinity) err.write('\r\u001b[K');
  };
  const found = await scrubArchive(resolve(desk.folder, folder), ({ blobs, bytes }) => {
    if (!err.isTerminal || desk.now() - toldAt < TELL_MS) return;
    clear();
    toldAt = desk.now();
    err.write(`${blobs} blobs, ${formatBytes(bytes)}`);
  }).finally(clear);
  for (const line of [...linesOf(found), sumOf(found)]) out.write(`${printable(line)}\n`);
  return isSound(found) ? EXIT.matches : EXIT.differs;
}

function linesOf(found: Scrubbing): readonly string[] {
  const each = (word: string, names: readonly string[]): readonly string[] => names.map((name) => `${word}: ${name}`);
  return [
    ...each(
      'damaged',
      found.damaged.map(({ sha256, reason }) => `${sha256} (${reason})`),
    ),
    ...each('missing', found.missing),
    ...each('does not belong here', found.foreign),
    ...each('catalogue', found.catalogueFaults),
    ...each('log', found.logFaults),
    ...each('not in the catalogue yet', found.unknown),
    ...each('unfinished', found.arriving),
    ...each('replaced by good bytes', found.setAside),
  ];
}

function sumOf(found: Scrubbing): string {
  const read = `${found.blobs} ${found.blobs === 1 ? 'blob' : 'blobs'}, ${formatBytes(found.bytes)} read`;
  const log = `${found.entries} ${found.entries === 1 ? 'entry' : 'entries'} of the log`;
  return `${read}, ${log}: the archive is ${isSound(found) ? 'whole' : 'not whole'}`;
}
