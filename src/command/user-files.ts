import { readFile, realpath, stat } from 'node:fs/promises';
import { basename, dirname, resolve, sep } from 'node:path';
import { parseTolerances, Refusal } from '../model/index.ts';
import type { Tolerances } from '../model/index.ts';

/**
 * The two files by their names alone, as reports show them; where both are called the same, with as much of their
 * folders as tells them apart.
 */
export function namesApart(paths: { readonly dummy: string; readonly revision: string }): {
  readonly dummy: string;
  readonly revision: string;
} {
  const dummy = paths.dummy.split(sep);
  const revision = paths.revision.split(sep);
  let depth = 1;
  while (depth < Math.max(dummy.length, revision.length) && dummy.at(-depth) === revision.at(-depth)) depth += 1;
  if (dummy.at(-depth) === revision.at(-depth)) depth = 1;
  const join = (parts: readonly string[]): string => parts.slice(-depth).join('/');
  return { dummy: join(dummy), revision: join(revision) };
}

/**
 * Tolerances from a JSON file, laid over the defaults.
 *
 * @throws {Refusal} not-found: there is no such file
 * @throws {Refusal} malformed: it is not JSON, or not tolerances
 */
export async function readTolerances(path: string): Promise<Tolerances> {
  const text = await readFile(path, 'utf8').catch((error: unknown) => {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT')
      throw new Refusal('not-found', { what: path });
    throw error;
  });
  try {
    return parseTolerances(JSON.parse(text));
  } catch (error) {
    if (error instanceof Refusal) {
      const { details } = error as Refusal;
      if (!('pointer' in details)) throw error;
      throw new Refusal('malformed', { ...details, pointer: `${path}: ${details.pointer}` }, error);
    }
    throw new Refusal('malformed', { pointer: path, expected: 'JSON', found: 'something else' }, error);
  }
}

/** A file that a report is to be written to, and how its first bytes look if an earlier report lies there. */
export interface Target {
  readonly path: string;
  readonly startsWith: string;
}

/**
 * Refuses a target that would cost somebody a file: one of the compared files, or anything that is no such report.
 * Asked before the work.
 *
 * @throws {Refusal} not-found: its folder does not exist
 * @throws {Refusal} malformed: something else lies there
 */
export async function requireTarget(target: Target, compared: readonly string[]): Promise<void> {
  const folder = await stat(dirname(target.path)).catch(() => null);
  if (folder?.isDirectory() !== true) throw new Refusal('not-found', { what: `folder ${dirname(target.path)}` });
  const found = await stat(target.path).catch(() => null);
  if (found === null || (!found.isFile() && !found.isDirectory())) return;
  const refuse = (what: string): never => {
    const expected = 'a new file or an earlier report';
    throw new Refusal('malformed', { pointer: target.path, expected, found: what });
  };
  if (found.isDirectory()) refuse('a folder');
  const same = await Promise.all([target.path, ...compared].map((path) => realpath(path).catch(() => resolve(path))));
  if (same.slice(1).includes(same[0] ?? '')) refuse(`${basename(target.path)}, which is compared`);
  if (found.size === 0) return;
  const text = await readFile(target.path, 'latin1');
  if (!text.startsWith(target.startsWith)) refuse('another file');
}
