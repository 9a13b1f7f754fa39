import {
  formatBase64,
  hashLeaf,
  openCheckpoint,
  parseBase64,
  parseVerifierKey,
  verifyInclusion,
} from '../../src/ledger/index.ts';
import { parseLogEntry, Refusal, type Check, type StatementKind } from '../../src/model/index.ts';
import { checkStatement, formatInstant, sha256Hex, signStatement } from '../../src/sealing/index.ts';
import { call, read } from '../call/call.ts';
import type { OwnKey } from '../keys/own-key.ts';
import type { CheckedDraft } from './draft.ts';
import { meetHere } from './meet-here.ts';
import { rememberedHead } from './remembered-head.ts';
import { SplitTrouble } from './signing-trouble.ts';

/** A statement as the archive keeps it. */
export interface KeptStatement {
  readonly id: string;
  readonly kind: StatementKind;
  readonly part: string | null;
  readonly certificate: string;
  readonly logIndex: number;
  readonly at: string;
  readonly says: readonly string[];
  /** Base64. */
  readonly content: string;
  /** Base64. */
  readonly seal: string;
}

/** A statement that was signed and taken, and what this browser found when it looked at it again. */
export interface TakenStatement {
  readonly kept: KeptStatement;
  readonly checks: readonly Check[];
}

/**
 * Signs a draft with one's own key, here, and sends it; then looks at what the archive made of it.
 *
 * @throws {Trouble} the archive does not take it
 */
export async function signAndSend({ statement }: CheckedDraft, own: OwnKey): Promise<TakenStatement> {
  const { content, seal } = await signStatement(statement, own.key);
  const body = { content: formatBase64(content), seal: formatBase64(seal) };
  const path = `/api/titles/${statement.title.id}/statements`;
  const kept = (await call<KeptStatement>('POST', path, { body })).value;
  const isSame = kept.content === body.content && kept.seal === body.seal;
  const same: Check = isSame
    ? { name: 'sent', outcome: 'holds' }
    : { name: 'sent', outcome: 'fails', expected: 'the bytes that were sent', found: 'others' };
  return { kept, checks: [same, ...(await checkKept(statement.title.id, kept, own.key.certificate))] };
}

/** Looks at a kept statement: its signature by the certificate, and its place in a log that goes on from what was seen. */
async function checkKept(titleId: string, kept: KeptStatement, certificate: Uint8Array): Promise<readonly Check[]> {
  const [content, seal] = [parseBase64(kept.content, '/content'), parseBase64(kept.seal, '/seal')];
  const receivedAt = formatInstant(new Date(kept.at));
  const { checks } = await checkStatement({ content, seal, pinned: [{ certificate }], receivedAt });
  return [...checks, await placeCheck(titleId, kept, [await sha256Hex(content), await sha256Hex(seal)])];
}

interface EntryProof {
  readonly index: number;
  readonly bytes: string;
  readonly proof: readonly string[];
}

async function placeCheck(titleId: string, { logIndex }: KeptStatement, hashes: readonly string[]): Promise<Check> {
  try {
    await meetHere();
  } catch (error) {
    // the statement is on its way already: what is wrong with the log is told of it, not instead of it
    if (!(error instanceof SplitTrouble) && !(error instanceof Refusal)) throw error;
    return { name: 'place', outcome: 'fails', expected: 'the log that was seen before', found: error.message };
  }
  const head = rememberedHead();
  const opened = head && (await openCheckpoint(head.note, parseVerifierKey(head.verifierKey)));
  if (opened?.holds !== true) return { name: 'place', outcome: 'not-checked', why: 'no head is remembered' };
  const { size, root } = opened.checkpoint;
  const told = await read<EntryProof>(`/api/titles/${titleId}/log/${logIndex}/proof?size=${size}`);
  const bytes = parseBase64(told.bytes, '/bytes');
  const proof = told.proof.map((hash, at) => parseBase64(hash, `/proof/${at}`));
  const answer = verifyInclusion({ leaf: hashLeaf(bytes), index: logIndex, size, root, proof });
  const named = parseLogEntry(bytes).subjects.map(({ sha256 }) => sha256);
  const isNamed = hashes.every((hash) => named.includes(hash));
  if (answer === 'holds' && isNamed) return { name: 'place', outcome: 'holds' };
  const expected = `this statement as entry ${logIndex}, proved to the head of ${size} entries`;
  return { name: 'place', outcome: 'fails', expected, found: isNamed ? answer : 'an entry about something else' };
}
