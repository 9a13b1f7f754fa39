import { open, readFile, realpath, stat } from 'node:fs/promises';
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

/** A file that a report is to be written to, and by what an earlier report there is known. */
export interface Target {
  readonly path: string;
  readonly mark: string;
}

/** What every report carries: for programs near its head, on paper after its pictures. */
export const REPORT_MARKS = { json: '"format": "witnessleaf-report/', pdf: '<xmp:CreatorTool>Witness Leaf<' } as const;

/**
 * Refuses a target that would cost somebody a file: one of the compared files, or anything that is no such report.
 * Asked before the work.
 *
 * @throws {Refusal} not-found: its folder does not exist
 * @throws {Refusal} malformed: something else lies there
 */
export async function requireTarget({ path, mark }: Target, compared: readonly string[]): Promise<void> {
  const folder = await stat(dirname(path)).catch(() => null);
  if (folder?.isDirectory() !== true) throw new Refusal('not-found', { what: `folder ${dirname(path)}` });
  const found = await stat(path).catch(() => null);
  if (found === null || (!found.isFile() && !found.isDirectory())) return;
  const refuse = (what: string): never => {
    throw new Refusal('malformed', { pointer: path, expected: 'a new file or an earlier report', found: what });
  };
  if (found.isDirectory()) refuse('a folder');
  const [own, ...others] = await Promise.all([path, ...compared].map((one) => realpath(one).catch(() => resolve(one))));
  if (own !== undefined && others.includes(own)) refuse(`${basename(path)}, which is compared`);
  if (found.size > 0 && !(await isMarked(path, mark))) refuse('another file');
}

const HEAD_BYTES = 4096;
const TAIL_BYTES = 4_000_000;

/** Whether a mark stands near the head of a file or in its last four megabytes; the whole may be too large to hold. */
async function isMarked(path: string, mark: string): Promise<boolean> {
  const file = await open(path);
  try {
    const { size } = await file.stat();
    const read = async (from: number, length: number): Promise<string> => {
      const { buffer, bytesRead } = await file.read(Buffer.alloc(length), 0, length, from);
      return buffer.toString('latin1', 0, bytesRead);
    };
    const tail = Math.min(size, TAIL_BYTES);
    return (await read(0, Math.min(size, HEAD_BYTES))).includes(mark) || (await read(size - tail, tail)).includes(mark);
  } finally {
    await file.close();
  }
}
