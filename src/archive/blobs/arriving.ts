import { randomBytes } from 'node:crypto';
import { readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';

const NAME = /^(\d+)\.([0-9a-f]{16})\.arriving$/;

/** Names that this process is writing to at this moment. */
const inHand = new Set<string>();

/** A name that no other put has, with the process that writes to it, so that what a kill left behind can be told. */
export function takeArrivingName(): string {
  const name = `${process.pid}.${randomBytes(8).toString('hex')}.arriving`;
  inHand.add(name);
  return name;
}

/** Says that the name is no longer written to. */
export function giveArrivingNameBack(name: string): void {
  inHand.delete(name);
}

/**
 * Takes away what killed puts left in a folder. A file is left alone while the process that its name tells is alive; one
 * of our own number that is not in our hand is from an earlier life. Processes of two machines or containers that share
 * the folder are not told apart: one machine to a folder.
 *
 * @returns names of what was taken away, sorted
 */
export async function clearArriving(folder: string): Promise<readonly string[]> {
  const left = (await readdir(folder)).filter(isLeftOver).sort();
  await Promise.all(left.map((name) => rm(join(folder, name), { force: true })));
  return left;
}

function isLeftOver(name: string): boolean {
  const pid = NAME.exec(name)?.[1];
  if (pid === undefined) return false;
  return Number(pid) === process.pid ? !inHand.has(name) : !isAlive(Number(pid));
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return !(error instanceof Error && 'code' in error && error.code === 'ESRCH');
  }
}
