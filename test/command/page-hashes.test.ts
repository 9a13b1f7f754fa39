import { describe, expect, it } from 'vitest';
import { runCommand } from '../../src/command/run-command.ts';
import type { Hashing } from '../../src/command/page-hashes.ts';
import { fakeDesk, fakeRunning } from './fake-desk.ts';

const good = (pageNumber: number) => ({
  pageNumber,
  contentHash: `${pageNumber}`.repeat(64),
  trimmed: { width: 210, height: 297.0004 },
  cause: null,
});

async function run(hashing: Hashing): Promise<{ exit: number; out: string; err: string }> {
  const { desk, out, err } = fakeDesk({ folder: '/books' });
  const exit = await runCommand(['page-hashes', 'a.pdf'], fakeRunning(desk, { hashing }));
  return { exit, out: out(), err: err() };
}

describe('page-hashes', () => {
  it('prints one line a page: number, hash and trimmed size', async () => {
    expect(await run((path) => Promise.resolve(path === '/books/a.pdf' ? [good(1), good(2)] : []))).toEqual({
      exit: 0,
      out: `1\t${'1'.repeat(64)}\t210.00 x 297.00 mm\n2\t${'2'.repeat(64)}\t210.00 x 297.00 mm\n`,
      err: '',
    });
  });

  it('prints the other pages where one cannot be read, says so, and ends with 2', async () => {
    const bad = { pageNumber: 2, contentHash: null, trimmed: null, cause: 'no page object' };
    expect(await run(() => Promise.resolve([good(1), bad, good(3)]))).toEqual({
      exit: 2,
      out: `1\t${'1'.repeat(64)}\t210.00 x 297.00 mm\n2\tunreadable\t\n3\t${'3'.repeat(64)}\t210.00 x 297.00 mm\n`,
      err: 'witnessleaf: /books/a.pdf: page 2: no page object\n',
    });
  });
});
