import { createHash } from 'node:crypto';
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { mkdir, rename } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Preparation } from '../../../demo/book/preparation.ts';
import type { BookSpec } from '../../../demo/book/spec.ts';
import type { ShelvedBook } from '../books/shelf.ts';

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));
const MAKERS = ['demo/book', 'test/evaluation/books', 'test/evaluation/material', 'test/evaluation/silent'];

/** Where made files are kept, named by all that they were made of, so that nothing is made twice. */
export interface Store {
  readonly folder: string;
  /** Digest of the programs that make the files. */
  readonly edition: string;
}

export function openStore(folder: string): Store {
  const digest = createHash('sha256');
  for (const room of MAKERS) {
    const names = readdirSync(join(ROOT, room), { recursive: true, encoding: 'utf8' });
    for (const name of names.filter((each) => each.endsWith('.ts')).sort())
      digest.update(readFileSync(join(ROOT, room, name)));
  }
  return { folder, edition: digest.digest('hex') };
}

/** A book as a file. */
export async function bookFile(store: Store, book: ShelvedBook, spec: BookSpec, how: Preparation): Promise<string> {
  return keepFile(store, `${book.name}`, [book.name, spec, how], async (path) => {
    const workshop = { library: book.library, keptFolder: join(store.folder, 'kept') };
    await book.make(spec, how, workshop, path);
  });
}

/** A file made of another by some tool; `done` says what was done with all that matters. */
export async function processedFile(
  store: Store,
  source: string,
  done: readonly (string | number)[],
  run: (source: string, target: string) => Promise<void>,
): Promise<string> {
  return keepFile(store, String(done[0]), [source, done], (path) => run(source, path));
}

async function keepFile(
  store: Store,
  name: string,
  madeOf: readonly unknown[],
  make: (path: string) => Promise<void>,
): Promise<string> {
  const digest = createHash('sha256')
    .update(JSON.stringify([store.edition, madeOf]))
    .digest('hex')
    .slice(0, 16);
  const path = join(store.folder, `${name}-${digest}.pdf`);
  if (existsSync(path)) return path;
  await mkdir(store.folder, { recursive: true });
  const fresh = `${path}.fresh.pdf`;
  await make(fresh);
  await rename(fresh, path);
  return path;
}
