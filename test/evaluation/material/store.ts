import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, readdirSync, rmSync, statSync } from 'node:fs';
import { rename } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Preparation } from '../../../demo/book/preparation.ts';
import type { BookSpec } from '../../../demo/book/spec.ts';
import type { ShelvedBook } from '../books/shelf.ts';

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));
const PICTURE_MAKERS = ['demo/book', 'test/evaluation/books'];
const MAKERS = [...PICTURE_MAKERS, 'demo/sheets', 'test/evaluation/material', 'test/evaluation/silent'];

/** Another evaluation may still be at work in its folder. */
const IDLE_MS = 2 * 3600 * 1000;

/** Where made files are kept, named by all that they were made of, so that nothing is made twice. */
export interface Store {
  /** Files of this edition of the programs that make them. */
  readonly folder: string;
  /** Prepared picture data, of this edition of the programs that make pictures. */
  readonly keptFolder: string;
}

/** Opens the folder; what other editions of the programs made, and nobody has added to since, is thrown away. */
export function openStore(folder: string): Store {
  const edition = `made-${editionOf(MAKERS)}`;
  const kept = `kept-${editionOf(PICTURE_MAKERS)}`;
  for (const name of [edition, kept]) mkdirSync(join(folder, name), { recursive: true });
  for (const name of readdirSync(folder)) {
    if (!/^(made|kept)-/.test(name) || name === edition || name === kept) continue;
    const idleMs = Date.now() - statSync(join(folder, name)).mtimeMs;
    if (idleMs > IDLE_MS) rmSync(join(folder, name), { recursive: true });
  }
  return { folder: join(folder, edition), keptFolder: join(folder, kept) };
}

/** Digest of all programs in some folders: a changed maker makes other files. */
function editionOf(rooms: readonly string[]): string {
  const digest = createHash('sha256');
  for (const room of rooms) {
    const names = readdirSync(join(ROOT, room), { recursive: true, encoding: 'utf8' });
    for (const name of names.filter((each) => each.endsWith('.ts')).sort())
      digest.update(readFileSync(join(ROOT, room, name)));
  }
  return digest.digest('hex').slice(0, 16);
}

/** A book as a file. */
export async function bookFile(store: Store, book: ShelvedBook, spec: BookSpec, how: Preparation): Promise<string> {
  return keepFile(store, `${book.name}`, [book.name, spec, how], async (path) => {
    const workshop = { library: book.library, keptFolder: store.keptFolder };
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
  const digest = createHash('sha256').update(JSON.stringify(madeOf)).digest('hex').slice(0, 16);
  const path = join(store.folder, `${name}-${digest}.pdf`);
  if (existsSync(path)) return path;
  const fresh = `${path}.fresh.pdf`;
  await make(fresh);
  await rename(fresh, path);
  return path;
}
