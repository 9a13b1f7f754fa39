import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { archivePaths, isSound, scrubArchive } from '../../../src/archive/index.ts';
import { strangersIn } from '../../../src/archive/blobs/index.ts';
import { readCatalogue } from '../../../src/archive/catalogue/index.ts';
import { chanceOf } from '../../archive/crash/chance.ts';
import { writeBook } from '../../archive/small-book.ts';
import { newMemory } from './client-memory.ts';
import { loadUntilItEnds, rememberHead } from './load.ts';
import { lookAgain } from './look-again.ts';
import { startLife } from './service-life.ts';
import type { ServiceLife } from './service-life.ts';
import { bringInSides } from './two-sides.ts';

/** What was acknowledged to the clients of a service that was killed again and again, and what is wrong at the end. */
export interface ServiceAftermath {
  readonly kills: number;
  /** Of these, before it listened again. */
  readonly killsAtStart: number;
  readonly files: number;
  readonly statements: number;
  readonly heads: number;
  /** Jobs of files that came to their end: done, or failed with a cause. */
  readonly jobs: number;
  /** In words; none where everything holds. */
  readonly faults: readonly string[];
}

const SHORTEST_MS = 100;
const LONGEST_MS = 1500;
const STARTS_KILLED = 0.1;

/**
 * Starts the service, kills it at a random moment while clients send files and statements and jobs run, starts it again
 * and asks for all that it had acknowledged; so many times. At the end everything is asked for once more, jobs come to
 * their end, and the archive is scrubbed.
 *
 * @param folder  empty; `archive` in it is served
 */
export async function killService(
  folder: string,
  { times, seed, onKill = () => undefined }: { times: number; seed: number; onKill?: (kills: number) => void },
): Promise<ServiceAftermath> {
  const archive = join(folder, 'archive');
  const chance = chanceOf(seed);
  const book = readFileSync(
    await writeBook(join(folder, 'book.pdf'), [{ lines: ['The harbour'] }, { tint: '#3366aa' }]),
  );
  const first = await living(startLife(archive, folder));
  const sides = await bringInSides(first.origin, first.firstLink ?? '');
  const memory = newMemory();
  await rememberHead({ origin: first.origin, sides, memory });
  // In peace, so that compiled code is kept for the next starts.
  await first.end('SIGTERM');
  const faults: string[] = [];
  let [kills, killsAtStart] = [0, 0];
  let since = { files: 0, statements: 0, heads: 0 };
  while (kills < times) {
    const isAtStart = chance() < STARTS_KILLED;
    const life = await startLife(archive, folder, isAtStart ? chance() * 2 * LONGEST_MS : undefined);
    if (life === null || isAtStart) {
      if (life !== null) await life.end('SIGKILL');
      [kills, killsAtStart] = [kills + 1, killsAtStart + 1];
      continue;
    }
    faults.push(...(await strangersAt(archive)));
    faults.push(...(await lookAgain({ ...life, sides, memory }, since)));
    since = { files: memory.files.size, statements: memory.statements.size, heads: memory.heads.size };
    const loaded = loadUntilItEnds({ origin: life.origin, sides, memory, chance, book });
    await pause(SHORTEST_MS + chance() * (LONGEST_MS - SHORTEST_MS));
    if ((await life.end('SIGKILL')) !== 'SIGKILL') faults.push('the service ended by itself');
    await loaded;
    onKill((kills += 1));
  }
  const last = await living(startLife(archive, folder));
  const jobs = await settledJobs(archive, memory.files.keys(), faults);
  faults.push(...(await lookAgain({ ...last, sides, memory }, { files: 0, statements: 0, heads: 0 })));
  await last.end('SIGTERM');
  const scrubbing = await scrubArchive(archive);
  if (!isSound(scrubbing)) faults.push(`scrub: ${JSON.stringify(scrubbing)}`);
  const { files, statements, heads } = memory;
  const counts = { files: files.size, statements: statements.size, heads: heads.size, jobs };
  return { kills, killsAtStart, ...counts, faults: [...faults, ...memory.troubles] };
}

async function living(starting: Promise<ServiceLife | null>): Promise<ServiceLife> {
  const life = await starting;
  if (life === null) throw new Error('the service did not start');
  return life;
}

/** What a start should have cleared or made known: unfinished puts, blobs without a row, bytes without an upload. */
async function strangersAt(archive: string): Promise<readonly string[]> {
  const paths = archivePaths(archive);
  const { arriving, foreign } = await strangersIn(paths.blobs);
  const catalogue = readCatalogue(paths.catalogue);
  try {
    const open = new Set((await catalogue.uploads.open()).map(({ id }) => id));
    const loose = readdirSync(paths.uploads).filter((id) => !open.has(id));
    return [...arriving, ...foreign, ...loose].map((name) => `left lying after a start: ${name}`);
  } finally {
    catalogue.close();
  }
}

/** Waits until no job is open. @returns how many files were read or failed with a cause */
async function settledJobs(archive: string, files: Iterable<string>, faults: string[]): Promise<number> {
  const catalogue = readCatalogue(archivePaths(archive).catalogue);
  try {
    for (let left = 600; (await catalogue.jobs.open()).length > 0 && left > 0; left -= 1) await pause(500);
    for (const { key, state } of await catalogue.jobs.open()) faults.push(`job ${key} is still ${state}`);
    let settled = 0;
    for (const id of files) {
      const job = await catalogue.jobs.byKey(`read/${id}`);
      const isSettled = job?.state === 'done' || (job?.state === 'failed' && (job.cause ?? '') !== '');
      if (isSettled) settled += 1;
      else faults.push(`file ${id} has the job ${job?.state ?? 'none'}`);
    }
    return settled;
  } finally {
    catalogue.close();
  }
}

function pause(ms: number): Promise<void> {
  return new Promise((later) => setTimeout(later, ms));
}
