import { expect, it } from 'vitest';
import { scratchFolder } from '../../archive/scratch.ts';
import { killService } from './kill-service.ts';

const SEED = Math.floor(Math.random() * 2 ** 31);
const KILLS = 6;

it(
  `K7 a service that is killed at uploads, jobs and statements loses nothing that it acknowledged (${KILLS} kills, seed ${SEED})`,
  { timeout: 400_000 },
  async () => {
    const after = await killService(scratchFolder(), { times: KILLS, seed: SEED });
    expect(after.faults).toEqual([]);
    expect(after.kills).toBe(KILLS);
    expect(after.jobs).toBe(after.files);
    // Otherwise nothing was killed that was under way.
    expect(Math.min(after.files, after.statements, after.heads)).toBeGreaterThan(0);
  },
);
