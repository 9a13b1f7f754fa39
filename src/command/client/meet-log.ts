import { meetLog, parseBase64, requireContinues, type Meeting, type MetLog } from '../../ledger/index.ts';
import { Refusal, type SeenHead } from '../../model/index.ts';
import type { ArchiveClient } from './ask-server.ts';
import { rememberedHead, rememberHead } from './remembered-heads.ts';

/** As the archive answers how its log went on: a signed head, and the hashes that lead to it, in base64. */
interface ShownHistory {
  readonly note: string;
  readonly proof: readonly string[];
}

/**
 * Meets an archive's log: holds it against the head that this machine remembers of it, and remembers the new one.
 *
 * @throws {Refusal} unproven: it is not the log that was seen before, or the archive did not sign it
 */
export async function meetHere(client: ArchiveClient, folder: string): Promise<MetLog> {
  const kept = await rememberedHead(folder, client.server.url);
  const shown = await client.get<Meeting['shown']>('/api/log/head');
  const prove = async (from: number, to: number) => hashesOf(await historyTo(client, from, to));
  return meet({ kept, shown, prove }, client, folder);
}

/**
 * Holds the head that a draft names against the one that was met, and remembers it: what is signed vouches for the
 * history under that head.
 *
 * @throws {Refusal} unproven: it is another log’s, an earlier one, or not proved to be the same log, grown
 */
export async function followHere(client: ArchiveClient, folder: string, met: MetLog, named: SeenHead): Promise<void> {
  const { head, keep } = met;
  const history = named.size > head.size ? await historyTo(client, head.size, named.size) : null;
  const prove = () => Promise.resolve(hashesOf(history));
  await requireContinues(head, named, prove);
  if (history === null) return;
  await meet({ kept: keep, shown: { verifierKey: keep.verifierKey, note: history.note }, prove }, client, folder);
}

async function meet(meeting: Meeting, { server }: ArchiveClient, folder: string): Promise<MetLog> {
  const met = await meetLog(meeting);
  if ('split' in met) {
    const checks = [{ name: 'history', expected: 'the log that was seen before, continued', found: met.split.how }];
    throw new Refusal('unproven', { what: 'the archive’s log', checks });
  }
  await rememberHead(folder, server.url, met.keep);
  return met;
}

/** @returns null where the archive has no head of that size, and so no log that leads there */
async function historyTo(client: ArchiveClient, from: number, to: number): Promise<ShownHistory | null> {
  try {
    return await client.get<ShownHistory>(`/api/log/consistency?from=${from}&to=${to}`);
  } catch (error) {
    if (error instanceof Refusal && (error as Refusal).kind === 'not-found') return null;
    throw error;
  }
}

function hashesOf(history: ShownHistory | null): readonly Uint8Array[] {
  return (history?.proof ?? []).map((hash, at) => parseBase64(hash, `/proof/${at}`));
}
