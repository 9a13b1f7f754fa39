import { access, realpath } from 'node:fs/promises';
import { basename, dirname, isAbsolute, join, relative } from 'node:path';
import { hexOf } from '../../ledger/index.ts';
import { Refusal } from '../../model/index.ts';
import { readCatalogue } from '../catalogue/index.ts';

/**
 * That neither folder lies in the other: a copy on the same place is none.
 *
 * @throws {Refusal} malformed: one does
 */
export async function requireOutside(folder: string, copy: string): Promise<void> {
  const [one, other] = [await realPathOf(folder), await realPathOf(copy)];
  if (!isWithin(one, other) && !isWithin(other, one)) return;
  throw new Refusal('malformed', { pointer: copy, expected: `a folder apart from ${folder}`, found: other });
}

/** Where a path leads, also one whose end is still to be made. */
async function realPathOf(path: string): Promise<string> {
  try {
    return await realpath(path);
  } catch (error) {
    if (!(error instanceof Error && 'code' in error && error.code === 'ENOENT')) throw error;
    return join(await realPathOf(dirname(path)), basename(path));
  }
}

/** @returns also where they are the same */
function isWithin(outer: string, inner: string): boolean {
  const way = relative(outer, inner);
  return !isAbsolute(way) && way.split(/[/\\]/)[0] !== '..';
}

/**
 * That what a copy has is an earlier state of this archive, or nothing: a copy that has more, or other things, is perhaps
 * the only place that has them.
 *
 * @param file  the archive's catalogue
 * @param copied  the copy's
 * @throws {Refusal} unproven: it is of another archive, or of a state that this one does not continue
 */
export async function requireEarlierCopy(file: string, copied: string): Promise<void> {
  if (!(await isThere(copied))) return;
  const [archive, copy] = [readCatalogue(file), readCatalogue(copied, { isOlderFine: true })];
  try {
    const [own, other] = [await archive.identity.get(), await copy.identity.get()];
    if (own?.verifierKey !== other?.verifierKey) refuse(copied, own?.verifierKey, other?.verifierKey);
    const head = await copy.log.latestCheckpoint();
    if (head === null) return;
    const same = await archive.log.checkpoint(head.size);
    const root = same === null ? 'none of that size' : hexOf(same.rootHash);
    if (root !== hexOf(head.rootHash))
      refuse(copied, `its head of ${head.size} entries, ${hexOf(head.rootHash)}`, root);
  } finally {
    archive.close();
    copy.close();
  }
}

function refuse(copied: string, expected = 'nothing', found = 'nothing'): never {
  const what = `${copied}, to be an earlier state of this archive`;
  throw new Refusal('unproven', { what, checks: [{ name: 'log', expected, found }] });
}

async function isThere(path: string): Promise<boolean> {
  return access(path).then(
    () => true,
    () => false,
  );
}
