import { resolve } from 'node:path';
import type { pageHashes } from '../archive/check/index.ts';
import { DEFAULT_LIMITS } from '../model/index.ts';
import { printable } from '../reporting/report/index.ts';
import type { Desk } from './desk.ts';
import { EXIT } from './exit-status.ts';

/** Where pages are hashed; the tests put their own here. */
export type Hashing = typeof pageHashes;

/**
 * Prints one line a page: its number, content hash and trimmed size, parted by tabs. A page that cannot be read says so
 * in its line; the others are printed all the same.
 *
 * @returns the exit status: 0, or 2 where a page could not be read
 * @throws {Refusal} unreadable: the file as a whole
 */
export async function printPageHashes(file: string, desk: Desk, hashing: Hashing): Promise<number> {
  const path = resolve(desk.folder, file);
  const pages = await hashing(path, DEFAULT_LIMITS);
  for (const { pageNumber, contentHash, trimmed, cause } of pages) {
    if (contentHash === null) {
      desk.out.write(`${pageNumber}\tunreadable\t\n`);
      desk.err.write(`witnessleaf: ${printable(`${path}: page ${pageNumber}: ${cause ?? 'unreadable'}`)}\n`);
    } else {
      const size = trimmed === null ? '' : `${trimmed.width.toFixed(2)} x ${trimmed.height.toFixed(2)} mm`;
      desk.out.write(`${pageNumber}\t${contentHash}\t${size}\n`);
    }
  }
  return pages.every(({ contentHash }) => contentHash !== null) ? EXIT.matches : EXIT.failed;
}
