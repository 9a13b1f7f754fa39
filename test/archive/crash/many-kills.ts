/** `npm run crash:work`: the work of an archive killed 200 times, or as often as is said: `npm run crash:work -- 500 SEED`. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { isSound } from '../../../src/archive/index.ts';
import { killOften } from './kill-often.ts';

const [times = '200', seed = `${Date.now() % 2 ** 31}`] = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), 'witnessleaf-crash-'));
const begun = performance.now();
const after = await killOften(folder, { times: Number(times), seed: Number(seed) });
const { scrubbing, ...told } = after;
const faults = [
  after.lostBlobs,
  after.lostFiles,
  after.orphans,
  after.unsettledJobs,
  after.troubles,
  scrubbing.unknown,
];
const holds = after.kills === Number(times) && faults.every(({ length }) => length === 0) && isSound(scrubbing);
const seconds = ((performance.now() - begun) / 1000).toFixed(0);
process.stdout.write(
  `${JSON.stringify({ seed: Number(seed), seconds: Number(seconds), ...told, scrubbing }, null, 2)}\n`,
);
process.stdout.write(holds ? 'holds\n' : `FAILED; kept in ${folder}\n`);
if (holds) rmSync(folder, { recursive: true });
process.exitCode = holds ? 0 : 1;
