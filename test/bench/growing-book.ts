import { existsSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { BENCH_FOLDER } from './bench-book.ts';
import { longBook, writeLongBook } from './long-book.ts';

/** The two files of a book of so many pages, dummy first; made once. */
export async function growingBook(pages: number): Promise<readonly [string, string]> {
  const folder = join(BENCH_FOLDER, 'growth');
  mkdirSync(folder, { recursive: true });
  for (const as of ['dummy', 'final'] as const) {
    const name = `${as}-${pages}.pdf`;
    if (!existsSync(join(folder, name))) await writeLongBook(longBook(pages), as, folder, name);
  }
  return [join(folder, `dummy-${pages}.pdf`), join(folder, `final-${pages}.pdf`)];
}

const WARMING = { pages: 96, rounds: 3 };
/** So many pages workers have checked when they count as warm. */
export const WARMING_PAGES = WARMING.pages * WARMING.rounds;

/**
 * Checks that warm workers, for `runTimedCheck`: of a book that is in no other run. With ten pages, or a hundred, a worker's
 * engine has not compiled yet what every page goes through, as it has in a service that is at work.
 */
export async function warmingChecks(): Promise<readonly string[]> {
  const book = await growingBook(WARMING.pages);
  return Array.from({ length: WARMING.rounds }, () => book).flat();
}
