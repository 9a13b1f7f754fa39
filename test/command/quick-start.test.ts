import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const PROGRAM = fileURLToPath(new URL('../../src/command/witnessleaf.ts', import.meta.url));

/** Prints every module that the program loads before it reads its arguments. */
const TELL = `
import { registerHooks } from 'node:module';
registerHooks({ load: (url, context, next) => (console.log(url), next(url, context)) });
`;

test('a command starts without the libraries that only archives, copies and packs need', () => {
  const telling = `--import=data:text/javascript,${encodeURIComponent(TELL)}`;
  const { stdout, stderr } = spawnSync(process.execPath, [telling, PROGRAM, 'compare'], { encoding: 'utf8' });
  expect(stderr).toContain('compare needs two files');
  const loaded = stdout.trim().split('\n');
  expect(loaded).toContainEqual(expect.stringMatching(/src\/command\/compare\.ts$/));
  expect(loaded.filter((url) => url.includes('/node_modules/') && !url.endsWith('.json'))).toEqual([]);
  expect(loaded.filter((url) => /src\/(service|sealing|ledger)\//.test(url))).toEqual([]);
});
