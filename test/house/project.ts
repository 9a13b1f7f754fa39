import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The project's top folder, with a slash at its end. */
export const ROOT = fileURLToPath(new URL('../../', import.meta.url));

/** A file of the project as text; `path` from its top. */
export function textOf(path: string): string {
  return readFileSync(join(ROOT, path), 'utf8');
}

/** Files of the project that git keeps or would keep, as paths from its top; `under` a folder such as 'src/'. */
export function projectFiles(under = ''): string[] {
  const listed = execFileSync('git', ['ls-files', '-z', '--cached', '--others', '--exclude-standard'], {
    cwd: ROOT,
    encoding: 'utf8',
  });
  const present = listed.split('\0').filter((path) => path.startsWith(under) && path !== '');
  return [...new Set(present)].sort();
}

/** Every folder of an installed package of this name, nested ones included. */
export function installedCopies(name: string, folder = join(ROOT, 'node_modules')): string[] {
  const packages = readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    if (!entry.isDirectory()) return [];
    const inside = join(folder, entry.name);
    return entry.name.startsWith('@') ? readdirSync(inside).map((scoped) => join(inside, scoped)) : [inside];
  });
  const here = packages.filter((path) => path === join(folder, name));
  const nested = packages.flatMap((path) => {
    const deeper = readdirSync(path, { withFileTypes: true }).find(
      (entry) => entry.name === 'node_modules' && entry.isDirectory(),
    );
    return deeper === undefined ? [] : installedCopies(name, join(path, 'node_modules'));
  });
  return [...here, ...nested];
}
