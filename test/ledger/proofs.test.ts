import { describe, expect, it } from 'vitest';
import {
  EMPTY_ROOT,
  frontierAt,
  hashLeaf,
  hashNode,
  proveConsistency,
  proveInclusion,
  rootAt,
  verifyConsistency,
  verifyInclusion,
} from '../../src/ledger/index.ts';
import { refusalOf } from '../refusal-of.ts';
import { growLog, numbered } from './grown-log.ts';
import { refusalLater } from './refusal-later.ts';

const log = growLog(numbered(7));
const root = await rootAt(log, 7);
const hash = log.leaves[0]!;
const rootOf3 = await rootAt(log, 3);
const inclusion = await proveInclusion(log, { index: 4, size: 7 });
const consistency = await proveConsistency(log, { oldSize: 3, newSize: 7 });

describe('that an entry is in the log', () => {
  const proof = inclusion;
  const claim = { leaf: log.leaves[4]!, index: 4, size: 7, root, proof };

  it.each([
    ['as it is', {}, 'holds'],
    ['beyond its end', { index: 7 }, 'no-such-entry'],
    ['before its beginning', { index: -1 }, 'no-such-entry'],
    ['at a half', { index: 4.5 }, 'no-such-entry'],
    ['of no entries', { index: 0, size: 0, root: EMPTY_ROOT, proof: [] }, 'no-such-entry'],
    ['of more entries than can be counted', { size: 2 ** 53 }, 'no-such-entry'],
    ['with a hash of another length', { leaf: hash.subarray(1) }, 'not-a-hash'],
    ['with an empty root', { root: new Uint8Array(0) }, 'not-a-hash'],
    ['with a proof without its end', { proof: proof.slice(0, -1) }, 'too-short'],
    ['with a proof and one more', { proof: [...proof, hash] }, 'too-long'],
    ['of twice the size', { size: 14 }, 'too-short'],
    ['of half the size', { index: 2, size: 3 }, 'too-long'],
    ['with the root of another log', { root: hash }, 'other-root'],
    ['of another entry', { leaf: hashLeaf(new Uint8Array(0)) }, 'other-root'],
  ])('%s: %s', (_, change, answer) => expect(verifyInclusion({ ...claim, ...change })).toBe(answer));

  it('cannot be proved of an entry that the log does not have yet', async () => {
    const answer = { kind: 'malformed', pointer: 'index', expected: '0 to 6', found: '7' };
    expect(await refusalLater(() => proveInclusion(log, { index: 7, size: 7 }))).toEqual(answer);
  });
});

describe('that a log is the beginning of another', () => {
  const proof = consistency;
  const claim = { oldSize: 3, newSize: 7, oldRoot: rootOf3, newRoot: root, proof };

  it.each([
    ['as it is', {}, 'holds'],
    ['from nothing', { oldSize: 0, oldRoot: EMPTY_ROOT, proof: [] }, 'from-nothing'],
    ['from nothing to nothing', { oldSize: 0, newSize: 0, oldRoot: EMPTY_ROOT, newRoot: EMPTY_ROOT }, 'from-nothing'],
    ['from a half', { oldSize: 2.5 }, 'from-nothing'],
    ['backwards', { oldSize: 7, newSize: 3 }, 'shrunk'],
    ['with a root that is none', { newRoot: new Uint8Array(31) }, 'not-a-hash'],
    ['the same size, the same root', { oldSize: 7, oldRoot: root, proof: [] }, 'holds'],
    ['the same size, another root', { oldSize: 7, oldRoot: hash, proof: [] }, 'other-new-root'],
    ['the same size, with a proof', { oldSize: 7, oldRoot: root }, 'too-long'],
    ['without a proof', { proof: [] }, 'too-short'],
    ['with a proof without its end', { proof: proof.slice(0, -1) }, 'too-short'],
    ['with a proof and one more', { proof: [...proof, hash] }, 'too-long'],
    ['with roots exchanged', { oldRoot: root, newRoot: rootOf3 }, 'other-old-root'],
    ['with another end', { newRoot: hash }, 'other-new-root'],
  ])('%s: %s', (_, change, answer) => expect(verifyConsistency({ ...claim, ...change })).toBe(answer));

  it('needs no proof where nothing was, or nothing was added', async () => {
    expect(await proveConsistency(log, { oldSize: 0, newSize: 7 })).toEqual([]);
    expect(await proveConsistency(log, { oldSize: 7, newSize: 7 })).toEqual([]);
  });

  it('cannot be proved backwards', async () => {
    const answer = { kind: 'malformed', pointer: 'oldSize', expected: '0 to 3', found: '7' };
    expect(await refusalLater(() => proveConsistency(log, { oldSize: 7, newSize: 3 }))).toEqual(answer);
  });
});

describe('a log whose kept hashes are damaged', () => {
  const damaged = (level: number, index: number, kept: Uint8Array | null) => ({
    hashOf: async (l: number, i: number) => (l === level && i === index ? kept : log.hashOf(l, i)),
  });

  it('says which one is missing', async () => {
    expect(await refusalLater(() => rootAt(damaged(2, 0, null), 7))).toEqual({
      kind: 'unreadable',
      file: 'the log',
      reason: 'no hash is kept for level 2, subtree 0',
    });
  });

  it('says which one is no hash', async () => {
    expect(await refusalLater(() => frontierAt(damaged(0, 6, new Uint8Array(20)), 7))).toEqual({
      kind: 'unreadable',
      file: 'the log',
      reason: '20 bytes instead of 32 are kept for level 0, subtree 6',
    });
  });

  it('is not hashed with what is no hash', () => {
    const refused = refusalOf(() => hashNode({ left: hash, right: new Uint8Array(0) }));
    expect(refused).toEqual({ kind: 'malformed', pointer: 'right', expected: '32 bytes of a hash', found: '0 bytes' });
  });
});

it('an entry changed by hand in what the archive keeps changes the root that everybody remembers', async () => {
  const rewritten = growLog(numbered(7).with(2, new TextEncoder().encode('entry 2, rewritten')));
  const proof = await proveConsistency(rewritten, { oldSize: 5, newSize: 7 });
  const claim = { oldSize: 5, newSize: 7, oldRoot: await rootAt(log, 5), newRoot: await rootAt(rewritten, 7), proof };
  expect(verifyConsistency(claim)).toBe('other-old-root');
});
