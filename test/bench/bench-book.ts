import { existsSync, mkdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { winterBook } from '../../demo/book/a-winters-round.ts';
import { unaltered } from '../../demo/book/edits/pages.ts';
import { rewrite } from '../../demo/book/edits/type-and-artwork.ts';
import { makeDummy, makeFinal } from '../../demo/book/make.ts';
import { PHOTOGRAPHS } from '../../demo/book/photographs.ts';
import { FINAL } from '../../demo/book/preparation.ts';
import { renderBook } from '../../demo/book/render.ts';

/** Where benches keep the books that they make once. */
export const BENCH_FOLDER = join(import.meta.dirname, '..', '..', '.out', 'bench');

const PIECE_BYTES = 2 ** 20;

/** The whole demonstration book as dummy and final, 32 pages each; the paths. */
export async function benchBook(): Promise<{ readonly dummy: string; readonly final: string }> {
  return {
    dummy: await made('dummy.pdf', () => makeDummy(BENCH_FOLDER)),
    final: await made('final.pdf', () => makeFinal(BENCH_FOLDER)),
  };
}

/** The final with a fault on its first page: the half-title lost its genitive. */
export function finalWithFault(): Promise<string> {
  const workshop = { library: PHOTOGRAPHS, keptFolder: join(BENCH_FOLDER, 'kept') };
  return made('fault-on-page-1.pdf', (path) => {
    const { book } = rewrite(1, 'Winter’s Round', 'Winter Round')(unaltered(winterBook()));
    return renderBook(book, FINAL, workshop, path);
  });
}

/** A file that no archive has seen: what stands behind its end is passed over by readers. */
export function freshCopy(path: string, run: number): readonly Uint8Array[] {
  const bytes = Buffer.concat([readFileSync(path), Buffer.from(`\n% ${Date.now()} ${run}\n`)]);
  const count = Math.ceil(bytes.length / PIECE_BYTES);
  return Array.from({ length: count }, (_, n) => bytes.subarray(n * PIECE_BYTES, (n + 1) * PIECE_BYTES));
}

/** Bytes of a file in the words of people. */
export function megabytes(path: string): string {
  return `${(statSync(path).size / 1e6).toFixed(1)} MB`;
}

async function made(name: string, make: (path: string) => Promise<unknown>): Promise<string> {
  const path = join(BENCH_FOLDER, name);
  mkdirSync(BENCH_FOLDER, { recursive: true });
  if (!existsSync(path)) await make(path);
  return path;
}
