import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { openArchive } from '../../src/archive/index.ts';
import { playUntil } from '../../demo/story/play-until.ts';
import { tinyBooks } from './tiny-books.ts';

const root = mkdtempSync(join(tmpdir(), 'witnessleaf-played-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

describe('the story, played up to a moment', () => {
  it('leaves an archive with findings that nobody has ruled on yet', { timeout: 120_000 }, async () => {
    const played = await playUntil('findings-open', { folder: root, books: await tinyBooks(join(root, 'files')) });
    const archive = await openArchive(played.archive, Date.now());
    try {
      const files = await archive.catalogue.files.ofPart(played.part);
      expect(files.map(({ kind, name }) => [kind, name])).toEqual([
        ['dummy', 'dummy.pdf'],
        ['revision', 'prepared.pdf'],
        ['revision', 'corrected.pdf'],
      ]);
      const [report] = await archive.catalogue.reports.onFile(files[2]!.id);
      expect(report?.verdict).toBe('differs');
    } finally {
      archive.close();
    }
  });
});
