import { chmodSync, existsSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { describe, expect, it } from 'vitest';
import { blobsIn, openBlobFolder } from '../../../src/archive/blobs/index.ts';
import type { Blobs } from '../../../src/archive/index.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { scratchFolder } from '../scratch.ts';
import { pieces, sha256Of, textOfStream } from './streams.ts';

const HELLO = sha256Of('the whole book');

async function opened(): Promise<{ folder: string; blobs: Blobs; pathOf: (sha256: string) => string }> {
  const folder = join(scratchFolder(), 'blobs');
  const pathOf = (sha256: string): string => join(folder, sha256.slice(0, 2), sha256);
  return { folder, blobs: await openBlobFolder(folder), pathOf };
}

async function listed(blobs: Blobs): Promise<unknown[]> {
  const all: unknown[] = [];
  for await (const blob of blobs.list()) all.push(blob);
  return all;
}

/** Writes other bytes under a blob's name, as a failing disk would. */
function spoil(path: string, text: string): void {
  chmodSync(path, 0o644);
  writeFileSync(path, text);
}

describe('a put', () => {
  it('K1 gives the hash and the size of what arrived, and the same bytes back', async () => {
    const { blobs } = await opened();
    expect(await blobs.put(pieces('the ', 'whole ', 'book'))).toEqual({ sha256: HELLO, bytes: 14, isNew: true });
    expect(await textOfStream(blobs.read(HELLO))).toBe('the whole book');
    expect(await blobs.sizeOf(HELLO)).toBe(14);
  });

  it('keeps a file without a single byte', async () => {
    const { blobs } = await opened();
    const empty = sha256Of('');
    expect(await blobs.put(pieces())).toEqual({ sha256: empty, bytes: 0, isNew: true });
    expect(await textOfStream(blobs.read(empty))).toBe('');
  });

  it('K2 shows nothing under the name before all bytes have arrived', async () => {
    const { folder, blobs, pathOf } = await opened();
    let seen: unknown = null;
    async function* slowly(): AsyncGenerator<Uint8Array> {
      yield* pieces('the whole ');
      seen = [existsSync(pathOf(HELLO)), readdirSync(join(folder, 'arriving')).length];
      yield* pieces('book');
    }
    await blobs.put(slowly());
    expect(seen).toEqual([false, 1]);
    expect([existsSync(pathOf(HELLO)), readdirSync(join(folder, 'arriving'))]).toEqual([true, []]);
  });

  it('K3 of bytes that are here already costs no space', async () => {
    const { folder, blobs } = await opened();
    await blobs.put(pieces('the whole book'));
    const before = readdirSync(folder, { recursive: true });
    expect(await blobs.put(pieces('the whole', ' book'))).toEqual({ sha256: HELLO, bytes: 14, isNew: false });
    expect(readdirSync(folder, { recursive: true })).toEqual(before);
  });

  it('of the same bytes many times at once keeps one', async () => {
    const { folder, blobs } = await opened();
    await Promise.all(Array.from({ length: 8 }, () => blobs.put(pieces('the whole', ' book'))));
    expect(await listed(blobs)).toEqual([{ sha256: HELLO, bytes: 14 }]);
    expect(readdirSync(join(folder, 'arriving'))).toEqual([]);
  });

  it('refuses bytes that are not the announced ones, and leaves nothing behind', async () => {
    const { blobs, folder } = await opened();
    expect(await laterRefusalOf(blobs.put(pieces('the whole bock'), { sha256: HELLO }))).toEqual({
      kind: 'unreadable',
      file: `what was sent as ${HELLO}`,
      reason: `its bytes have the SHA-256 ${sha256Of('the whole bock')}: it changed on the way`,
    });
    expect([await listed(blobs), readdirSync(join(folder, 'arriving'))]).toEqual([[], []]);
  });

  it('refuses what is too large while it still arrives', async () => {
    const { blobs } = await opened();
    let drawn = 0;
    async function* endless(): AsyncGenerator<Uint8Array> {
      for (; ; drawn += 1) yield* pieces('0123456789');
    }
    expect(await laterRefusalOf(blobs.put(endless(), { mostBytes: 25 }))).toEqual({
      kind: 'too-large',
      what: 'the file',
      limit: 25,
      found: 30,
      unit: 'bytes',
    });
    expect(drawn).toBe(2);
  });

  it('leaves nothing behind where the sender breaks off', async () => {
    const { blobs, folder } = await opened();
    async function* broken(): AsyncGenerator<Uint8Array> {
      yield* pieces('half');
      throw new Error('connection lost');
    }
    await expect(blobs.put(broken())).rejects.toThrow(/^connection lost$/);
    expect(readdirSync(join(folder, 'arriving'))).toEqual([]);
  });

  it('never holds a file in memory as a whole', async () => {
    const { blobs } = await opened();
    setFlagsFromString('--expose-gc');
    const collect = runInNewContext('gc') as () => void;
    const piece = new Uint8Array(2 ** 20);
    let most = 0;
    async function* large(): AsyncGenerator<Uint8Array> {
      for (let count = 0; count < 96; count += 1) {
        yield piece.slice();
        if (count % 16 === 15) {
          collect();
          most = Math.max(most, process.memoryUsage().arrayBuffers);
        }
      }
    }
    const { bytes } = await blobs.put(large());
    expect([bytes, most < 32 * 2 ** 20]).toEqual([96 * 2 ** 20, true]);
  });
});

describe('what a killed put left behind', () => {
  it('K4 is taken away at the next start, what a living process writes is not', async () => {
    const { folder } = await opened();
    const arriving = join(folder, 'arriving');
    const [dead, living] = [2 ** 22 + 1, process.ppid];
    const names = [dead, living, process.pid].map((pid) => `${pid}.0123456789abcdef.arriving`);
    names.forEach((name) => writeFileSync(join(arriving, name), 'half'));
    await openBlobFolder(folder);
    expect(readdirSync(arriving)).toEqual([`${living}.0123456789abcdef.arriving`]);
  });

  it('is not confused with a put of this process that is under way', async () => {
    const { folder, blobs } = await opened();
    async function* interrupted(): AsyncGenerator<Uint8Array> {
      yield* pieces('the whole ');
      await openBlobFolder(folder);
      yield* pieces('book');
    }
    expect(await blobs.put(interrupted())).toEqual({ sha256: HELLO, bytes: 14, isNew: true });
  });
});

describe('reading', () => {
  it('K5 a whole blob whose bytes have changed is refused before its end', async () => {
    const { blobs, pathOf } = await opened();
    await blobs.put(pieces('the whole book'));
    spoil(pathOf(HELLO), 'the whole bock');
    const given: Uint8Array[] = [];
    const reading = (async () => {
      for await (const piece of blobs.read(HELLO)) given.push(piece);
    })();
    expect(await laterRefusalOf(reading)).toEqual({
      kind: 'unreadable',
      file: `blob ${HELLO}`,
      reason: `its bytes have the SHA-256 ${sha256Of('the whole bock')}`,
    });
    expect(given).toEqual([]);
  });

  it('lends a blob unchecked to whoever asks for that, spoiled or not, and refused where there is none', async () => {
    const { blobs, pathOf } = await opened();
    await blobs.put(pieces('the whole book'));
    spoil(pathOf(HELLO), 'spoiled');
    expect(await blobs.lendUnchecked(HELLO, (path) => Promise.resolve(readFileSync(path, 'utf8')))).toBe('spoiled');
    const none = blobs.lendUnchecked(sha256Of('none'), (path) => Promise.resolve(path));
    expect(await laterRefusalOf(none)).toMatchObject({ kind: 'not-found' });
  });

  it('lends a blob as a file, and refuses to where it has changed', async () => {
    const { blobs, pathOf } = await opened();
    await blobs.put(pieces('the whole book'));
    expect(await blobs.lend(HELLO, async (path) => readFileSync(path, 'utf8'))).toBe('the whole book');
    spoil(pathOf(HELLO), '');
    const lending = blobs.lend(HELLO, async () => 'was lent');
    expect(await laterRefusalOf(lending)).toMatchObject({ kind: 'unreadable', file: `blob ${HELLO}` });
  });

  it.each([
    [0, 0, 't'],
    [4, 8, 'whole'],
    [13, 13, 'k'],
    [0, 13, 'the whole book'],
  ])('gives bytes %d to %d, both included', async (first, last, expected) => {
    const { blobs } = await opened();
    await blobs.put(pieces('the whole book'));
    expect(await textOfStream(blobs.readRange(HELLO, { first, last }))).toBe(expected);
  });

  it.each([
    [0, 14],
    [5, 4],
    [-1, 3],
    [0.5, 3],
  ])('refuses the stretch %d to %d', async (first, last) => {
    const { blobs } = await opened();
    await blobs.put(pieces('the whole book'));
    expect(await laterRefusalOf(textOfStream(blobs.readRange(HELLO, { first, last })))).toEqual({
      kind: 'malformed',
      pointer: 'range',
      expected: 'within bytes 0 to 13',
      found: `${first} to ${last}`,
    });
  });

  it('says that there is no such blob', async () => {
    const { blobs } = await opened();
    const missing = { kind: 'not-found', what: `blob ${HELLO}` };
    expect(await laterRefusalOf(textOfStream(blobs.read(HELLO)))).toEqual(missing);
    expect(await laterRefusalOf(textOfStream(blobs.readRange(HELLO, { first: 0, last: 0 })))).toEqual(missing);
    expect(await blobs.sizeOf(HELLO)).toBe(null);
  });

  it.each(['../../../../etc/passwd', 'AB'.repeat(32), '', `${HELLO}/..`])(
    'takes no path for a name: %j',
    async (name) => {
      const { blobs } = await opened();
      expect(await laterRefusalOf(blobs.sizeOf(name))).toMatchObject({
        kind: 'malformed',
        pointer: 'sha256',
      });
    },
  );
});

describe('a blob that is sent again after its bytes were damaged', () => {
  it('K6 is good again, and the damaged bytes are set aside', async () => {
    const { blobs, folder, pathOf } = await opened();
    await blobs.put(pieces('the whole book'));
    spoil(pathOf(HELLO), 'the whole bock');
    expect(await blobs.put(pieces('the whole book'))).toEqual({ sha256: HELLO, bytes: 14, isNew: true });
    expect(await textOfStream(blobs.read(HELLO))).toBe('the whole book');
    expect(readFileSync(join(folder, 'damaged', `${HELLO}.1`), 'utf8')).toBe('the whole bock');
  });
});

describe('the list', () => {
  it('has every blob by name and size, and nothing else that lies there', async () => {
    const { blobs, folder } = await opened();
    const texts = ['a', 'bb', 'ccc'];
    for (const text of texts) await blobs.put(pieces(text));
    writeFileSync(join(folder, sha256Of('a').slice(0, 2), 'notes.txt'), 'not a blob');
    const expected = texts.map((text) => ({ sha256: sha256Of(text), bytes: text.length }));
    expect(await listed(blobs)).toEqual(expected.sort((one, other) => (one.sha256 < other.sha256 ? -1 : 1)));
  });
});

describe('looking on', () => {
  it('makes nothing and takes nothing away', async () => {
    const { folder } = await opened();
    const left = join(folder, 'arriving', `${2 ** 22 + 1}.0123456789abcdef.arriving`);
    writeFileSync(left, 'half');
    await listed(blobsIn(folder));
    expect(statSync(left).size).toBe(4);
    rmSync(left);
  });
});
