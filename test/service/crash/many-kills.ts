/** `npm run crash`: the service killed 200 times, or as often as is said: `npm run crash -- 500 SEED`. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { killService } from './kill-service.ts';

const [times = '200', seed = `${Date.now() % 2 ** 31}`] = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), 'witnessleaf-crash-'));
const begun = performance.now();
process.stdout.write(`seed ${seed}\n`);
const onKill = (kills: number): void => {
  if (kills % 10 === 0) process.stdout.write(`${kills} kills\n`);
};
const after = await killService(folder, { times: Number(times), seed: Number(seed), onKill });
const seconds = Math.round((performance.now() - begun) / 1000);
process.stdout.write(`${JSON.stringify({ seconds, ...after }, null, 2)}\n`);
const holds = after.faults.length === 0;
process.stdout.write(holds ? 'holds\n' : `FAILED; kept in ${folder}\n`);
if (holds) rmSync(folder, { recursive: true });
process.exitCode = holds ? 0 : 1;
