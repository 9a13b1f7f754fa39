import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { RASTER_RENDERER } from '../reading/pool/index.ts';
import type { CheckRequest } from './check-request.ts';
import { openKeptFacts } from './kept-facts.ts';
import { startPageWorkers } from './page-workers.ts';
import type { ReadingTools } from './read-file.ts';

/** What one check works at. */
export interface Bench {
  readonly tools: ReadingTools;
  /** A folder for what is put aside; it goes when the bench is closed. */
  readonly scratch: string;
  /** Workers that were handed in go on; its own end. */
  close(this: void): Promise<void>;
}

/** Workers, kept facts and a scratch folder for one check. */
export async function openBench({
  limits,
  workers,
  keptFolder,
  recentFacts,
}: Pick<CheckRequest, 'limits' | 'workers' | 'keptFolder' | 'recentFacts'>): Promise<Bench> {
  const pool = typeof workers === 'number' ? startPageWorkers(workers, limits) : workers;
  const scratch = await mkdtemp(join(tmpdir(), 'witnessleaf-'));
  const close = async (): Promise<void> => {
    if (pool !== workers) await pool.close();
    await rm(scratch, { recursive: true, force: true });
  };
  try {
    return {
      tools: { pool, limits, kept: await openKeptFacts(keptFolder, RASTER_RENDERER, recentFacts) },
      scratch,
      close,
    };
  } catch (error) {
    await close();
    throw error;
  }
}
