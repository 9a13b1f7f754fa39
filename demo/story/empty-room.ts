import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdir, symlink } from 'node:fs/promises';
import { delimiter, join } from 'node:path';
import type { Ran } from './stage.ts';

/** What `verify.sh` of an evidence pack says it needs. */
const NEEDED =
  'sh openssl sha256sum awk basename cat cut dirname env expr find grep head ls mkdir mktemp mv od printf rm sed sort tail test tr uniq wc';

/**
 * Runs the pack's own script where there is nothing but a shell and the few programs that it says it needs.
 *
 * @param pack  a folder that a pack was unpacked into
 * @param room  a folder that does not exist yet
 */
export async function verifyInEmptyRoom(pack: string, room: string): Promise<Ran> {
  await mkdir(room, { recursive: true });
  const folders = (process.env.PATH ?? '').split(delimiter);
  for (const name of NEEDED.split(' ')) {
    const found = folders.map((folder) => join(folder, name)).find((path) => existsSync(path));
    if (found !== undefined) await symlink(found, join(room, name));
  }
  return execute(join(room, 'sh'), ['verify.sh'], { cwd: pack, env: { PATH: room } });
}

/** Runs a program to its end. */
export function execute(
  program: string,
  args: readonly string[],
  options: { readonly cwd?: string; readonly env?: Readonly<Record<string, string>> } = {},
): Promise<Ran> {
  return new Promise((done) => {
    execFile(program, [...args], { ...options, encoding: 'utf8', maxBuffer: 2 ** 26 }, (error, out, err) => {
      done({ exit: error === null ? 0 : typeof error.code === 'number' ? error.code : -1, out, err });
    });
  });
}
