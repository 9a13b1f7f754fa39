import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { archivePaths, openArchive, scrubArchive } from '../../../src/archive/index.ts';
import type { Archive, Scrubbing } from '../../../src/archive/index.ts';
import { strangersIn } from '../../../src/archive/blobs/index.ts';
import { chanceOf } from './chance.ts';

/** What was promised and what is there, after all kills and one quiet run to the end. */
export interface Aftermath {
  /** Ended by SIGKILL, as they should. */
  readonly kills: number;
  /** Blobs and files that the victim told of before it was killed. */
  readonly toldBlobs: number;
  readonly toldFiles: number;
  /** Told of, and not there. */
  readonly lostBlobs: readonly string[];
  readonly lostFiles: readonly string[];
  /** Blobs that a start left without a row, and unfinished puts that it left lying. */
  readonly orphans: readonly string[];
  /** Jobs neither done nor failed at the end, or without what they should have led to. */
  readonly unsettledJobs: readonly string[];
  readonly failedJobs: number;
  /** Jobs that were in hand at a kill, over all kills. */
  readonly takenBack: number;
  readonly troubles: readonly string[];
  readonly scrubbing: Scrubbing;
}

interface Told {
  readonly blobs: Set<string>;
  readonly files: Set<string>;
  readonly troubles: string[];
}

const VICTIM = fileURLToPath(new URL('./victim.ts', import.meta.url));

/** Starts the victim in a folder and kills it, so many times, each at a random moment; then lets it finish, and looks. */
export async function killOften(folder: string, { times, seed }: { times: number; seed: number }): Promise<Aftermath> {
  const chance = chanceOf(seed);
  const told: Told = { blobs: new Set(), files: new Set(), troubles: [] };
  const orphans: string[] = [];
  let [kills, takenBack] = [0, 0];
  for (let round = 1; round <= times; round += 1) {
    // Some are killed while they still start, which is when they mend what the last kill left.
    const delayMs = chance() < 0.15 ? -chance() * 80 : chance() * 200;
    if ((await runVictim(folder, seed + round, told, delayMs)) === 'SIGKILL') kills += 1;
    const archive = await openArchive(folder, Date.now());
    orphans.push(...(await orphansOf(archive, folder)));
    takenBack += (await archive.catalogue.jobs.open()).filter(({ state }) => state === 'running').length;
    archive.close();
  }
  await runVictim(folder, seed, told, null);
  const archive = await openArchive(folder, Date.now());
  try {
    const lostBlobs = await lost(told.blobs, async (sha256) => (await archive.blobs.sizeOf(sha256)) !== null);
    const keys = [...told.files].map((sha256) => archive.catalogue.jobs.byKey(`read/${sha256}`));
    const jobs = await Promise.all(keys);
    const counts = { toldBlobs: told.blobs.size, toldFiles: told.files.size, kills, takenBack };
    return {
      ...counts,
      lostBlobs,
      lostFiles: [...told.files].filter((_sha256, index) => jobs[index] === null),
      orphans,
      unsettledJobs: await unsettled(archive, told.files),
      failedJobs: jobs.filter((job) => job?.state === 'failed').length,
      troubles: told.troubles,
      scrubbing: await scrubArchive(folder),
    };
  } finally {
    archive.close();
  }
}

/** @param delayMs  after it is ready; before, where it is negative (then counted from its start); null lets it finish */
async function runVictim(folder: string, seed: number, told: Told, delayMs: number | null): Promise<string> {
  const purpose = delayMs === null ? 'finish' : 'go on';
  const child = spawn(process.execPath, [VICTIM, folder, `${seed}`, purpose], { stdio: ['ignore', 'pipe', 'inherit'] });
  const killIn = (ms: number): void => void setTimeout(() => child.kill('SIGKILL'), ms);
  let rest = '';
  const hear = (line: string): void => {
    const [word, value = ''] = line.split(' ');
    if (word === 'ready' && delayMs !== null && delayMs >= 0) killIn(delayMs);
    if (word === 'blob') told.blobs.add(value);
    if (word === 'file') told.files.add(value);
    if (word === 'trouble') told.troubles.push(line);
  };
  child.stdout.setEncoding('utf8').on('data', (text: string) => {
    const lines = `${rest}${text}`.split('\n');
    rest = lines.pop() ?? '';
    lines.forEach(hear);
  });
  if (delayMs !== null && delayMs < 0) killIn(100 - delayMs);
  return new Promise((done, fail) => {
    child.on('error', fail).on('close', (code, signal) => done(signal ?? `${code}`));
  });
}

async function orphansOf({ blobs, catalogue }: Archive, folder: string): Promise<readonly string[]> {
  const { arriving } = await strangersIn(archivePaths(folder).blobs);
  const orphans = [...arriving];
  for await (const { sha256 } of blobs.list()) if ((await catalogue.blobs.get(sha256)) === null) orphans.push(sha256);
  return orphans;
}

async function unsettled({ catalogue }: Archive, files: ReadonlySet<string>): Promise<readonly string[]> {
  const open = (await catalogue.jobs.open()).map(({ key }) => key);
  return [
    ...open,
    ...(await lost(files, async (sha256) => {
      const read = await catalogue.jobs.byKey(`read/${sha256}`);
      if (read?.state === 'failed') return read.cause === 'poisoned' || read.cause?.includes('3 of 3 times') === true;
      const compared = await catalogue.jobs.byKey(`compare/${sha256}`);
      return compared?.state === 'done' && (await catalogue.pages.ofBlob(sha256)) !== null;
    })),
  ];
}

async function lost(told: ReadonlySet<string>, isThere: (sha256: string) => Promise<boolean>): Promise<string[]> {
  const missing: string[] = [];
  for (const sha256 of told) if (!(await isThere(sha256))) missing.push(sha256);
  return missing;
}
