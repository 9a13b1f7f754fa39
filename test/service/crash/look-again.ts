import { createHash } from 'node:crypto';
import {
  checkHistory,
  hashLeaf,
  openCheckpoint,
  parseBase64,
  parseVerifierKey,
  verifyInclusion,
} from '../../../src/ledger/index.ts';
import { parseLogEntry } from '../../../src/model/index.ts';
import { machineAt } from '../caller.ts';
import type { Caller } from '../caller.ts';
import type { ClientMemory } from './client-memory.ts';
import type { Load } from './load.ts';
import { asked } from './two-sides.ts';

/** Which of what the clients hold is looked at: what came since a count of each, or all from 0. */
export interface Since {
  readonly files: number;
  readonly statements: number;
  readonly heads: number;
}

/**
 * Asks a service that runs again for everything that its clients hold: each file byte for byte, each statement with its
 * proof in the log, and that the log continues each head.
 *
 * @returns what is lost or does not hold, in words
 */
export async function lookAgain(
  { origin, sides, memory }: Pick<Load, 'origin' | 'sides' | 'memory'>,
  since: Since,
): Promise<readonly string[]> {
  const who = machineAt(origin, sides.publisher.token);
  const lost: string[] = [];
  for (const [id, sha256] of [...memory.files].slice(since.files)) {
    const answer = await fetch(`${origin}/api/files/${id}/content`, {
      headers: { Authorization: `Bearer ${sides.publisher.token}` },
    });
    const found = createHash('sha256')
      .update(Buffer.from(await answer.arrayBuffer()))
      .digest('hex');
    if (found !== sha256) lost.push(`file ${id}: ${answer.status}, ${found} instead of ${sha256}`);
  }
  for (const [id, kept] of [...memory.statements].slice(since.statements)) {
    const problem = await problemOfStatement(who, sides.title, memory.verifierKey, { id, ...kept });
    if (problem !== null) lost.push(`statement ${id}: ${problem}`);
  }
  for (const [size, note] of [...memory.heads].slice(since.heads)) {
    const shown = await asked<{ note: string; proof: string[] }>(who.get(`/api/log/consistency?from=${size}`), 200);
    const proof = shown.proof.map((hash) => parseBase64(hash, '/proof'));
    const { standing } = await checkHistory({ verifierKey: memory.verifierKey, note }, { note: shown.note, proof });
    if (standing.kind !== 'same' && standing.kind !== 'grown') lost.push(`head ${size}: ${JSON.stringify(standing)}`);
  }
  return lost;
}

type Held = { readonly id: string } & Omit<NonNullable<ReturnType<ClientMemory['statements']['get']>>, 'token'>;

async function problemOfStatement(who: Caller, title: string, verifierKey: string, held: Held): Promise<string | null> {
  const heard = await who.get(`/api/titles/${title}/statements/${held.id}`);
  if (heard.status !== 200) return `answered ${heard.status}`;
  const { content, seal } = heard.json as { content: string; seal: string };
  const isSame = Buffer.from(held.content).toString('base64') === content;
  if (!isSame || Buffer.from(held.seal).toString('base64') !== seal) return 'other bytes';
  const shown = await asked<{ bytes: string; proof: string[]; head: { note: string } }>(
    who.get(`/api/titles/${title}/log/${held.logIndex}/proof`),
    200,
  );
  const opened = await openCheckpoint(shown.head.note, parseVerifierKey(verifierKey));
  if (!opened.holds) return 'a head that the archive did not sign';
  const bytes = parseBase64(shown.bytes, '/bytes');
  if (!parseLogEntry(bytes).subjects.some(({ sha256 }) => sha256 === held.id)) return 'another entry';
  const proof = shown.proof.map((hash) => parseBase64(hash, '/proof'));
  const { size, root } = opened.checkpoint;
  const answer = verifyInclusion({ leaf: hashLeaf(bytes), index: held.logIndex, size, root, proof });
  return answer === 'holds' ? null : `the proof: ${answer}`;
}
