import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { installedCopies, ROOT } from './project.ts';

describe('the drawing library', () => {
  it('is installed exactly once: two copies in one process crash it', () => {
    expect(installedCopies('@napi-rs/canvas')).toEqual([join(ROOT, 'node_modules/@napi-rs/canvas')]);
  });

  it('would be found if a second copy were nested in another package', () => {
    const folder = mkdtempSync(join(tmpdir(), 'witnessleaf-'));
    try {
      const top = join(folder, '@napi-rs/canvas');
      const nested = join(folder, 'pdfjs-dist/node_modules/@napi-rs/canvas');
      [top, nested].forEach((path) => mkdirSync(path, { recursive: true }));
      expect(installedCopies('@napi-rs/canvas', folder).sort()).toEqual([top, nested]);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
