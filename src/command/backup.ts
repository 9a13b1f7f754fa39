import { resolve } from 'node:path';
import { backUpArchive } from '../archive/index.ts';
import { formatBytes, printable } from '../reporting/report/index.ts';
import type { Desk } from './desk.ts';
import { EXIT } from './exit-status.ts';

/** How often a person who waits is told. */
const TELL_MS = 200;

/**
 * Copies an archive, which may be in use, and says what came of it.
 *
 * @param at  milliseconds since 1970
 * @returns the exit status: 0 where the copy is whole, 1 where the archive had not everything to give
 * @throws {Refusal} as `backUpArchive`
 */
export async function backup(folder: string, copy: string, desk: Desk, at: number): Promise<number> {
  const { err, out } = desk;
  let toldAt = -Infinity;
  const clear = (): void => {
    if (toldAt > -Infinity) err.write('\r\u001b[K');
  };
  const onBlob = ({ copied, bytes }: { readonly copied: number; readonly bytes: number }): void => {
    if (!err.isTerminal || desk.now() - toldAt < TELL_MS) return;
    clear();
    toldAt = desk.now();
    err.write(`${blobs(copied)}, ${formatBytes(bytes)} copied`);
  };
  const paths = { folder: resolve(desk.folder, folder), copy: resolve(desk.folder, copy) };
  const done = await backUpArchive({ ...paths, at, onBlob }).finally(clear);
  const { copied, bytes, there, entries, damaged } = done;
  for (const { sha256, reason } of damaged) out.write(`${printable(`not copied: ${sha256} (${reason})`)}\n`);
  const log = `${entries} ${entries === 1 ? 'entry' : 'entries'} of the log`;
  const word = damaged.length === 0 ? 'whole' : 'not whole';
  out.write(`${blobs(copied)}, ${formatBytes(bytes)} copied, ${there} there before, ${log}: the copy is ${word}\n`);
  return damaged.length === 0 ? EXIT.matches : EXIT.differs;
}

function blobs(count: number): string {
  return `${count} ${count === 1 ? 'blob' : 'blobs'}`;
}
