import { chmodSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { readArrivals, type Arrivals } from '../../../src/archive/arriving/arrivals.ts';
import { openBlobFolder } from '../../../src/archive/blobs/index.ts';
import type { Blobs } from '../../../src/archive/index.ts';
import { pieces, sha256Of } from '../blobs/streams.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { scratchFolder } from '../scratch.ts';

const BYTES = Buffer.alloc(9_000_000, 'eine Seite nach der andern ');
const SHA256 = sha256Of(BYTES);
/** As a line brings them. */
const inPieces = (bytes = BYTES): AsyncGenerator<Uint8Array> =>
  pieces(
    ...Array.from({ length: Math.ceil(bytes.length / 65_536) }, (_, n) => bytes.subarray(n * 65_536, (n + 1) * 65_536)),
  );

interface Opened {
  readonly blobs: Blobs;
  readonly arrivals: Arrivals;
  readonly pathOf: (sha256: string) => string;
}

async function opened(): Promise<Opened> {
  const folder = join(scratchFolder(), 'blobs');
  const arrivals = readArrivals();
  onTestFinished(() => arrivals.close());
  const pathOf = (sha256: string): string => join(folder, sha256.slice(0, 2), sha256);
  return { blobs: await openBlobFolder(folder, arrivals), arrivals, pathOf };
}

describe('a blob that was read back while it arrived', () => {
  it('holds, which is said once: whoever lends it later checks it again', async () => {
    const { blobs, arrivals, pathOf } = await opened();
    await blobs.put(inPieces());
    expect(await arrivals.holds(SHA256, pathOf(SHA256))).toBe(true);
    expect(await arrivals.holds(SHA256, pathOf(SHA256))).toBe(false);
  });

  it('is lent, and refused the next time when its bytes were spoiled meanwhile', async () => {
    const { blobs, pathOf } = await opened();
    await blobs.put(inPieces());
    expect(await blobs.lend(SHA256, (path) => Promise.resolve(path))).toBe(pathOf(SHA256));
    chmodSync(pathOf(SHA256), 0o644);
    writeFileSync(pathOf(SHA256), 'spoiled');
    expect(await laterRefusalOf(blobs.lend(SHA256, (path) => Promise.resolve(path)))).toMatchObject({
      kind: 'unreadable',
    });
  });

  it.each(['of as many bytes', 'of fewer'])('does not hold once others %s were written in their place', async (how) => {
    const { blobs, pathOf } = await opened();
    await blobs.put(inPieces());
    chmodSync(pathOf(SHA256), 0o644);
    writeFileSync(pathOf(SHA256), how === 'of fewer' ? 'spoiled' : Buffer.alloc(BYTES.length));
    // not in the same instant, whatever the disk's clock tells apart
    utimesSync(pathOf(SHA256), new Date(), new Date(Date.now() + 10));
    expect(await laterRefusalOf(blobs.lend(SHA256, (path) => Promise.resolve(path)))).toMatchObject({
      kind: 'unreadable',
    });
  });

  it('is told apart from one that came twice, from one that was refused and from one that is short', async () => {
    const { blobs, arrivals, pathOf } = await opened();
    await blobs.put(inPieces());
    await arrivals.holds(SHA256, pathOf(SHA256));
    expect(await blobs.put(inPieces())).toMatchObject({ isNew: false });
    expect(await arrivals.holds(SHA256, pathOf(SHA256))).toBe(false);
    const other = Buffer.from(BYTES);
    other[0] = 0;
    const refused = blobs.put(inPieces(other), { sha256: SHA256 });
    expect(await laterRefusalOf(refused)).toMatchObject({ kind: 'unreadable' });
    expect(await arrivals.holds(sha256Of(other), pathOf(sha256Of(other)))).toBe(false);
    await blobs.put(pieces('kurz'));
    expect(await arrivals.holds(sha256Of('kurz'), pathOf(sha256Of('kurz')))).toBe(false);
  });

  it('is told to come as fast as it does, as long as it does', async () => {
    const { arrivals } = await opened();
    const path = join(scratchFolder(), 'coming');
    writeFileSync(path, BYTES);
    vi.useFakeTimers({ toFake: ['performance'] });
    onTestFinished(() => void vi.useRealTimers());
    expect(arrivals.slowest()).toBe(null);
    arrivals.wrote(path, 4_200_000);
    expect(arrivals.slowest()?.bytesASecond).toBe(Infinity);
    vi.advanceTimersByTime(2000);
    arrivals.wrote(path, 8_400_000);
    expect(arrivals.slowest()?.bytesASecond).toBeGreaterThan(1.9e6);
    expect(arrivals.slowest()?.bytesASecond).toBeLessThan(2.2e6);
    vi.advanceTimersByTime(20_000);
    expect(arrivals.slowest()).toBe(null);
    arrivals.forget(path);
  });

  it('is read again where the thread that read behind is gone', async () => {
    const { blobs, arrivals, pathOf } = await opened();
    await blobs.put(inPieces());
    arrivals.close();
    expect(await arrivals.holds(SHA256, pathOf(SHA256))).toBe(false);
    expect(await blobs.lend(SHA256, (path) => Promise.resolve(path))).toBe(pathOf(SHA256));
  });
});
