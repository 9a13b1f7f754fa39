import { describe, expect, it } from 'vitest';
import { isSound } from '../../../src/archive/index.ts';
import { scratchFolder } from '../scratch.ts';
import { killOften } from './kill-often.ts';

const SEED = Math.floor(Math.random() * 2 ** 31);

describe('an archive whose program is killed again and again', () => {
  it(
    `K7 loses nothing that was acknowledged, and every job ends (30 kills, seed ${SEED})`,
    { timeout: 240_000 },
    async () => {
      const after = await killOften(scratchFolder(), { times: 30, seed: SEED });
      const { lostBlobs, lostFiles, orphans, unsettledJobs, troubles, kills } = after;
      expect({ lostBlobs, lostFiles, orphans, unsettledJobs, troubles, kills }).toEqual({
        lostBlobs: [],
        lostFiles: [],
        orphans: [],
        unsettledJobs: [],
        troubles: [],
        kills: 30,
      });
      expect(after.scrubbing).toMatchObject({ damaged: [], missing: [], unknown: [], arriving: [], foreign: [] });
      expect(isSound(after.scrubbing)).toBe(true);
      // Otherwise nothing was killed that was under way.
      expect(after.toldFiles).toBeGreaterThan(30);
      expect(after.takenBack).toBeGreaterThan(0);
    },
  );
});
