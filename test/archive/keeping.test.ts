import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const HERE = fileURLToPath(new URL('.', import.meta.url));
const written = readFileSync(new URL('../../src/archive/keeping.md', import.meta.url), 'utf8');

const promised = [...written.matchAll(/^\*\*(K\d+)\*\* /gm)].map(([, name]) => name!);
const tested = readdirSync(HERE, { recursive: true, encoding: 'utf8' })
  .filter((path) => path.endsWith('.test.ts'))
  .flatMap((path) => [
    ...readFileSync(join(HERE, path), 'utf8').matchAll(/\bit(?:\.each\([\s\S]*?\))?\(\s*['`](K\d+) /g),
  ])
  .map(([, name]) => name!);

describe('the promises of the archive', () => {
  it('are each kept by a test, and no test keeps one that was not made', () => {
    expect([...new Set(tested)].sort()).toEqual([...promised].sort());
    expect(promised).toEqual(Array.from({ length: 20 }, (_one, index) => `K${index + 1}`));
  });
});
