/**
 * `npm run pages`: builds the pages of the service into `.out/web/`, where anything that they are made of has changed.
 * The name of what they were made of stands beside them, in `.out/web.made-of`.
 */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';

const PROJECT = join(import.meta.dirname, '..');
const BUILT = join(PROJECT, '.out', 'web');
const MARK = join(PROJECT, '.out', 'web.made-of');
const SOURCES = ['web', 'src/model', 'src/sealing', 'src/ledger', 'src/evidence', 'package-lock.json', 'tsconfig.json'];

/** Builds them, or finds that they are there already; also what runs before the tests. */
export default async function buildPages(): Promise<void> {
  const name = nameOf(SOURCES.flatMap((path) => filesIn(join(PROJECT, path))));
  if (existsSync(join(BUILT, 'index.html')) && existsSync(MARK) && readFileSync(MARK, 'utf8') === name) return;
  const making = `${BUILT}.${process.pid}`;
  await bundle(making);
  rmSync(BUILT, { recursive: true, force: true });
  renameSync(making, BUILT);
  writeFileSync(MARK, name);
}

async function bundle(outDir: string): Promise<void> {
  const { build } = await import('vite');
  const before = process.env.NODE_ENV;
  // The same pages come of it, whoever has them built.
  process.env.NODE_ENV = 'production';
  await build({
    configFile: false,
    root: import.meta.dirname,
    logLevel: 'warn',
    build: {
      outDir,
      emptyOutDir: true,
      target: 'es2024',
      // A data: address is none that the pages may load a typeface or a script from.
      assetsInlineLimit: 0,
      modulePreload: { polyfill: false },
      // A library marks its files for servers; there is none of that here.
      rolldownOptions: { checks: { moduleLevelDirective: false } },
    },
  });
  if (before === undefined) delete process.env.NODE_ENV;
  else process.env.NODE_ENV = before;
}

function filesIn(path: string): string[] {
  if (/\.(json|md)$/.test(path)) return path.endsWith('.md') ? [] : [path];
  return readdirSync(path, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && !entry.name.endsWith('.md'))
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
}

function nameOf(files: readonly string[]): string {
  const hash = createHash('sha256');
  for (const file of files) {
    const bytes = readFileSync(file);
    hash.update(`${relative(PROJECT, file)}\0${bytes.length}\0`).update(bytes);
  }
  return hash.digest('hex');
}

if (process.argv[1] === import.meta.filename) {
  mkdirSync(join(PROJECT, '.out'), { recursive: true });
  await buildPages();
}
