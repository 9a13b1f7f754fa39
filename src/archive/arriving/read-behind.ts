/** Reads files back while they arrive, in a thread of its own, so that nobody waits for it. */
import { parentPort } from 'node:worker_threads';
import { ArrivingFile } from '../../reading/arriving/index.ts';
import type { ArrivedFile } from '../../reading/arriving/index.ts';

/** So many bytes of a file are written; null: it came to nothing. With a number to ask by these are all. */
export interface ToReadBehind {
  /** Open for reading; it is closed here, with the last that is said of the file. */
  readonly descriptor: number;
  readonly bytes: number | null;
  readonly ask?: number;
}

/** A file of which all was read, or null where it could not be. */
export interface WasReadBehind {
  readonly id: number;
  readonly file: ArrivedFile | null;
}

const files = new Map<number, ArrivingFile>();

parentPort?.on('message', ({ descriptor, bytes, ask }: ToReadBehind) => {
  const file = files.get(descriptor) ?? new ArrivingFile(descriptor);
  files.set(descriptor, file);
  const isRead = bytes !== null && read(file, bytes);
  if (ask !== undefined) parentPort?.postMessage({ id: ask, file: isRead ? file.end() : null } satisfies WasReadBehind);
  if (ask === undefined && bytes !== null) return;
  file.close();
  files.delete(descriptor);
});

/** Whoever needs what cannot be read reads it again and says why it cannot be. */
function read(file: ArrivingFile, bytes: number): boolean {
  try {
    file.readTo(bytes);
    return true;
  } catch {
    return false;
  }
}
