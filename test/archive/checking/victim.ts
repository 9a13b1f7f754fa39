/** A program that works on the archive in FOLDER until it is killed, and tells each stage as it comes to it. */
import { writeSync } from 'node:fs';
import {
  archivePaths,
  archiveWork,
  openActivity,
  openArchive,
  startPageWorkers,
  startWorkers,
} from '../../../src/archive/index.ts';
import { DEFAULT_LIMITS, DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import { formatReport, keepExhibits } from '../../../src/reporting/index.ts';

const [folder = ''] = process.argv.slice(2);
const now = (): number => Date.now();
const archive = await openArchive(folder, now());
const activity = openActivity({ now, keep: 10 });
activity.listen(({ what, data }) => writeSync(1, `${what === 'progress' ? data.stage : what}\n`));
await startWorkers({
  jobs: archive.catalogue.jobs,
  owner: 'desk',
  workers: 1,
  work: archiveWork(archive, {
    pool: startPageWorkers(1, DEFAULT_LIMITS),
    limits: DEFAULT_LIMITS,
    tolerances: DEFAULT_TOLERANCES,
    factsFolder: archivePaths(folder).facts,
    now,
    activity,
    formatReport,
    drawReport: (asked) => keepExhibits({ archive, pairsAtOnce: 1, now }, asked),
  }),
  now,
  leaseMs: 60_000,
  idleMs: 5,
  patienceMs: () => 1,
  onTrouble: (error) => writeSync(1, `trouble ${String(error)}\n`),
});
