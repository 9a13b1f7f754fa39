import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';

/** A new folder for each call; all of a test file's go when it ends. */
export function scratchFolder(): string {
  return mkdtempSync(join(top(), 'one-'));
}

let made: string | null = null;

function top(): string {
  made ??= mkdtempSync(join(tmpdir(), 'witnessleaf-archive-'));
  return made;
}

afterAll(() => {
  if (made !== null) rmSync(made, { recursive: true, force: true });
  made = null;
});
