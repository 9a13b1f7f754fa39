import { spawnSync } from 'node:child_process';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { BENCH_FOLDER } from './bench-book.ts';
import type { MeasuredRun } from './measured-run.ts';
import { measureRun } from './measured-run.ts';

/**
 * The yardstick: poppler's `pdftoppm -r 100`, each file's pages shared out among as many processes as there are cores, one
 * file after the other.
 *
 * @param pages  of each of the files
 */
export async function rasterise(files: readonly string[], pages: number): Promise<MeasuredRun> {
  const cores = availableParallelism();
  const share = Math.ceil(pages / cores);
  const drawn = join(BENCH_FOLDER, 'page');
  const lines = files.map((path) =>
    Array.from({ length: cores }, (_, core) => {
      const [first, last] = [core * share + 1, Math.min(pages, (core + 1) * share)];
      return `pdftoppm -r 100 -f ${first} -l ${last} '${path}' '${drawn}' &`;
    }).join('\n'),
  );
  const run = await measureRun('sh', ['-c', `${lines.join('\nwait\n')}\nwait`], BENCH_FOLDER);
  spawnSync('sh', ['-c', `rm -f '${drawn}'*`]);
  return run;
}
