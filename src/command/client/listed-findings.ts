import { setTimeout as pause } from 'node:timers/promises';
import { Refusal, type Finding } from '../../model/index.ts';
import { wholeAnswer, type ArchiveClient, type Slice } from './ask-server.ts';

/** A finding as the archive lists it. */
export interface ListedFinding {
  readonly id: string;
  /** Its number in the report. */
  readonly mark: string;
  readonly weight: 'stop' | 'look' | 'note';
  readonly finding: Pick<Finding, 'says' | 'dummyPage' | 'revisionPage'>;
  readonly ruling: { readonly state: string };
}

/** The findings of a file's newest report. */
export interface ListedFindings extends Slice {
  readonly report: string;
  readonly items: readonly ListedFinding[];
}

/**
 * All findings of a file.
 *
 * @throws {Refusal} out-of-step: it was not compared yet
 */
export function findingsOfFile(client: ArchiveClient, fileId: string): Promise<ListedFindings> {
  return wholeAnswer(client, `/api/files/${fileId}/findings`);
}

interface ShownJob {
  readonly state: 'waiting' | 'running' | 'done' | 'failed';
  readonly cause: string | null;
}

const ASK_MS = 500;

/**
 * Waits until a file has been compared.
 *
 * @throws {Refusal} unreadable: it could not be read or compared, with the cause; unavailable: the person stopped waiting
 */
export async function waitUntilCompared(client: ArchiveClient, fileId: string, stop: AbortSignal): Promise<void> {
  while (!stop.aborted) {
    const { reading, comparing } = await client.get<{
      readonly reading: ShownJob | null;
      readonly comparing: ShownJob | null;
    }>(`/api/files/${fileId}/checking`);
    const failed = [reading, comparing].find((job) => job?.state === 'failed');
    if (failed !== undefined) throw new Refusal('unreadable', { file: fileId, reason: failed?.cause ?? 'it failed' });
    if (comparing?.state === 'done') return;
    await pause(ASK_MS, undefined, { signal: stop }).catch(() => undefined);
  }
  throw new Refusal('unavailable', { what: fileId, reason: 'stopped while waiting' });
}
