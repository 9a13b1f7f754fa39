/** A program that keeps files and works on them until it is killed: FOLDER, then a seed. It tells what it has done. */
import { createHash } from 'node:crypto';
import { writeSync } from 'node:fs';
import type { Work } from '../../../src/archive/index.ts';
// Past the door: the door also opens the libraries that read PDFs, and this starts hundreds of times.
import { openArchive } from '../../../src/archive/open-archive.ts';
import { startWorkers } from '../../../src/archive/workers/workers.ts';
import { chanceOf } from './chance.ts';

const [folder = '', seed = '0', purpose = 'go on'] = process.argv.slice(2);
const chance = chanceOf(Number(seed));
const archive = await openArchive(folder, Date.now());
const { blobs, catalogue } = archive;

/** Written past every buffer of this process: what was told is told, also when it is killed the next moment. */
function tell(word: string, value: string): void {
  writeSync(1, `${word} ${value}\n`);
}

const pause = (ms: number): Promise<void> => new Promise((later) => setTimeout(later, ms));

/** Reads the blob again, a step at a time; then a comparison is wanted. Some files are poisoned. */
const read: Work = async ({ order }, { progress }) => {
  const { sha256, isPoisoned } = order as { readonly sha256: string; readonly isPoisoned: boolean };
  const hash = createHash('sha256');
  for await (const piece of blobs.read(sha256)) hash.update(piece);
  for (let step = 1; step <= 3; step += 1) {
    progress('reading', step, 3);
    await pause(chance() * 4);
  }
  if (isPoisoned) throw new Error('poisoned');
  const contentHash = hash.digest('hex');
  await catalogue.pages.add({
    sha256,
    pages: [{ pageNumber: 1, contentHash, widthMm: 1, heightMm: 1 }],
    at: Date.now(),
  });
  return {
    result: null,
    then: [{ kind: 'compare', key: `compare/${sha256}`, order: null, at: Date.now(), mostTries: 1000 }],
  };
};
const rest: Work = async () => {
  await pause(chance() * 4);
  return { result: null };
};

const workers = await startWorkers({
  jobs: catalogue.jobs,
  owner: 'victim',
  workers: 2,
  work: { read, compare: rest, report: rest },
  now: () => Date.now(),
  leaseMs: 60_000,
  idleMs: 5,
  patienceMs: () => 1,
  onTrouble: (error) => tell('trouble', String(error)),
});
tell('ready', '');

if (purpose === 'finish') {
  while ((await catalogue.jobs.open()).length > 0) await pause(5);
  await workers.close();
  archive.close();
} else {
  await Promise.all([sendFiles(), sendFiles()]);
}

/** One file after the other, some of them twice; a file is told of when it and its job are on disk. */
async function sendFiles(): Promise<never> {
  for (;;) {
    const isTwin = chance() < 0.2;
    const content = isTwin ? 'the same again' : `${seed} ${chance()} ${chance()}`;
    const { sha256, bytes } = await blobs.put(slices(content.repeat(1 + Math.floor(chance() * 4000))));
    tell('blob', sha256);
    const isPoisoned = chance() < 0.1;
    await catalogue.together(async (tables) => {
      await tables.blobs.add({ sha256, bytes, at: Date.now() });
      const mostTries = isPoisoned ? 3 : 1000;
      await tables.jobs.add({
        kind: 'read',
        key: `read/${sha256}`,
        order: { sha256, isPoisoned },
        at: Date.now(),
        mostTries,
      });
    });
    tell('file', sha256);
    workers.nudge();
  }
}

async function* slices(text: string): AsyncGenerator<Uint8Array> {
  const bytes = Buffer.from(text);
  for (let from = 0; from < bytes.length; from += 16_384) yield bytes.subarray(from, from + 16_384);
}
