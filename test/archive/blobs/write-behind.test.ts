import type { FileHandle } from 'node:fs/promises';
import { expect, test } from 'vitest';
import { writeBehind } from '../../../src/archive/blobs/write-behind.ts';

/** A disk that takes at most so many bytes with a call, and fails when it is full. */
function diskOf(mostAtOnce: number, fullAt = Infinity) {
  const kept = new Map<number, number>();
  const calls = { count: 0 };
  const writev = async (pieces: readonly Uint8Array[], from: number) => {
    calls.count += 1;
    await new Promise((go) => setTimeout(go, 1));
    if (from >= fullAt) throw Object.assign(new Error('no space left'), { code: 'ENOSPC' });
    const bytes = Buffer.concat(pieces).subarray(0, mostAtOnce);
    bytes.forEach((byte, index) => kept.set(from + index, byte));
    return { bytesWritten: bytes.length, buffers: pieces };
  };
  const file = { writev } as unknown as FileHandle;
  const bytes = (): number[] => [...kept].sort(([one], [other]) => one - other).map(([, byte]) => byte);
  return { file, calls, bytes };
}

const PIECES = Array.from({ length: 50 }, (_, n) => Uint8Array.of(n, n + 50, n + 100));
const WHOLE = PIECES.flatMap((piece) => [...piece]);

test('pieces are written in their order, several with one call, wherever the disk stops in one', async () => {
  for (const mostAtOnce of [1, 4, 1000]) {
    const { file, bytes, calls } = diskOf(mostAtOnce);
    const { write, written } = writeBehind(file, 0);
    for (const piece of PIECES) await write(piece);
    await written();
    expect([mostAtOnce, bytes()]).toEqual([mostAtOnce, WHOLE]);
    if (mostAtOnce === 1000) expect(calls.count).toBeLessThan(PIECES.length);
  }
});

test('a disk that fails is told of, and nothing is written behind the gap', async () => {
  const { file, bytes } = diskOf(7, 70);
  const { write, written } = writeBehind(file, 0);
  const sending = async (): Promise<void> => {
    for (const piece of PIECES) await write(piece);
    await written();
  };
  await expect(sending()).rejects.toMatchObject({ code: 'ENOSPC' });
  await expect(written()).rejects.toMatchObject({ code: 'ENOSPC' });
  await expect(write(Uint8Array.of(1))).rejects.toMatchObject({ code: 'ENOSPC' });
  expect(bytes().length).toBeLessThan(80);
  expect(bytes()).toEqual(WHOLE.slice(0, bytes().length));
});

test('whoever brings more than the disk takes waits for it', async () => {
  let letGo: () => void = () => undefined;
  const held = new Promise<void>((go) => (letGo = go));
  const writev = async (pieces: readonly Uint8Array[]) => {
    await held;
    return { bytesWritten: pieces.reduce((sum, { length }) => sum + length, 0), buffers: pieces };
  };
  const { write, written } = writeBehind({ writev } as unknown as FileHandle, 0);
  const piece = new Uint8Array(2 ** 20);
  let taken = 0;
  const bringing = (async () => {
    for (let n = 0; n < 20; n++) {
      await write(piece);
      taken += 1;
    }
  })();
  await new Promise((go) => setTimeout(go, 50));
  expect(taken).toBeLessThan(10);
  letGo();
  await bringing;
  await written();
  expect(taken).toBe(20);
});
