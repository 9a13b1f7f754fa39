import type { FileHandle } from 'node:fs/promises';

/** So much may wait to be written before whoever brings more is held up. */
const MOST_WAITING_BYTES = 8 * 2 ** 20;
/** Pieces of a line are small: together they cost one call. */
const MOST_PIECES = 256;

/** A file that is written while more of it comes in. */
export interface WritingBehind {
  /** Takes a piece, which must not be altered any more; resolves when there is room for the next. */
  write(this: void, piece: Uint8Array): Promise<void>;
  /** Until all that was taken is written; it is not on disk by that. */
  written(this: void): Promise<void>;
}

/**
 * Writes pieces one behind the other, in the background, so that hashing and receiving go on meanwhile.
 *
 * @param from  byte of the file at which the first piece goes
 * @param onWritten  told up to which byte of the file all is written
 * @throws whatever the disk throws, from the next call on
 */
export function writeBehind(
  file: FileHandle,
  from: number,
  onWritten: (bytes: number) => void = () => undefined,
): WritingBehind {
  let waiting: Uint8Array[] = [];
  let [waitingBytes, at] = [0, from];
  let failure: { readonly error: unknown } | null = null;
  let writing: Promise<void> | null = null;

  const writeAll = async (): Promise<void> => {
    while (waiting.length > 0) {
      const pieces = waiting.splice(0, MOST_PIECES);
      const bytes = pieces.reduce((sum, { byteLength }) => sum + byteLength, 0);
      await writePieces(file, pieces, at);
      at += bytes;
      waitingBytes -= bytes;
      onWritten(at);
    }
  };
  const go = (): Promise<void> =>
    (writing ??= writeAll()
      .catch((error: unknown) => {
        failure = { error };
        waiting = [];
      })
      .finally(() => (writing = null)));
  const throwFailure = (): void => {
    if (failure !== null) throw failure.error;
  };
  return {
    async write(piece) {
      throwFailure();
      waiting.push(piece);
      waitingBytes += piece.byteLength;
      const going = go();
      if (waitingBytes < MOST_WAITING_BYTES) return;
      await going;
      throwFailure();
    },
    async written() {
      while (waiting.length > 0 || writing !== null) await go();
      throwFailure();
    },
  };
}

/** A disk may take less than it is given. */
async function writePieces(file: FileHandle, pieces: readonly Uint8Array[], from: number): Promise<void> {
  let at = from;
  let left = pieces;
  while (left.length > 0) {
    const { bytesWritten } = await file.writev([...left], at);
    at += bytesWritten;
    left = without(left, bytesWritten);
  }
}

function without(pieces: readonly Uint8Array[], bytes: number): readonly Uint8Array[] {
  let rest = bytes;
  const first = pieces.findIndex(({ byteLength }) => {
    if (byteLength > rest) return true;
    rest -= byteLength;
    return false;
  });
  return first === -1 ? [] : [pieces[first]!.subarray(rest), ...pieces.slice(first + 1)];
}
