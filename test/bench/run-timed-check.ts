import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import type { TimedCheck } from './timed-check.ts';

/**
 * A check by `timed-check.ts` in a process of its own.
 *
 * @param words  as it takes them
 * @throws {Error} it did not end well
 */
export function runTimedCheck(...words: readonly string[]): TimedCheck {
  const script = join(import.meta.dirname, 'timed-check.ts');
  const done = spawnSync(process.execPath, [script, ...words], { encoding: 'utf8' });
  if (done.status !== 0) throw new Error(`a check ended with status ${done.status}: ${done.stderr}`);
  return JSON.parse(done.stdout) as TimedCheck;
}
