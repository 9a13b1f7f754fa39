import fc from 'fast-check';
import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import {
  frontierAt,
  hexOf,
  proveConsistency,
  proveInclusion,
  rootAt,
  rootOfFrontier,
  verifyConsistency,
  verifyInclusion,
} from '../../src/ledger/index.ts';
import { sha256 } from '../../src/model/index.ts';
import { growLog, numbered, type GrownLog } from './grown-log.ts';
import { plainTree, type PlainTree } from './plain-tree.ts';

const hexes = (hashes: readonly Uint8Array[]) => hashes.map((hash) => Buffer.from(hash).toString('hex'));
const entriesOf = (atMost: number) => fc.array(fc.uint8Array({ maxLength: 90 }), { maxLength: atMost, size: 'max' });

/** Holds every proof of a log at one size against the definition, and asks the verification about each. */
async function holdAgainstPlain(log: GrownLog, plain: PlainTree, size: number): Promise<void> {
  const root = plain.root(0, size);
  expect(hexes([await rootAt(log, size)])).toEqual(hexes([root]));
  for (let index = 0; index < size; index++) {
    const proof = plain.inclusion(index, size);
    expect(hexes(await proveInclusion(log, { index, size }))).toEqual(hexes(proof));
    expect(verifyInclusion({ leaf: plain.root(index, index + 1), index, size, root, proof })).toBe('holds');
  }
  for (let oldSize = 1; oldSize <= size; oldSize++) {
    const proof = plain.consistency(oldSize, size);
    expect(hexes(await proveConsistency(log, { oldSize, newSize: size }))).toEqual(hexes(proof));
    const oldRoot = plain.root(0, oldSize);
    expect(verifyConsistency({ oldSize, newSize: size, oldRoot, newRoot: root, proof })).toBe('holds');
  }
}

describe('the log, whatever is in it', () => {
  it('has the roots and proofs of the definition at every size up to 200', async () => {
    const [log, plain] = [growLog(numbered(200)), plainTree(numbered(200))];
    for (let size = 0; size <= 200; size++) await holdAgainstPlain(log, plain, size);
  });

  it('has them with up to 200 random entries, some alike, some empty', async () => {
    const law = fc.asyncProperty(entriesOf(200), async (entries) => {
      const log = growLog(entries);
      await holdAgainstPlain(log, plainTree(entries), entries.length);
      expect(rootOfFrontier(log.frontier)).toEqual(plainTree(entries).root(0, entries.length));
      expect(await frontierAt(log, entries.length)).toEqual(log.frontier);
    });
    await fc.assert(law, { numRuns: 40, examples: [[numbered(200)]] });
  });

  it('asks for no more kept hashes than the logarithm of its size, twice', async () => {
    const log = growLog(numbered(200));
    const most = 2 * Math.ceil(Math.log2(200));
    for (let size = 1; size <= 200; size++) {
      log.asked = 0;
      await proveInclusion(log, { index: (size * 7919) % size, size });
      expect(log.asked).toBeLessThanOrEqual(most);
      log.asked = 0;
      await proveConsistency(log, { oldSize: Math.ceil(size / 3), newSize: size });
      expect(log.asked).toBeLessThanOrEqual(most);
    }
  });

  it('goes on from its kept hashes after a new start as if it had never stopped', async () => {
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 0, max: 120 }), async (size) => {
        expect(await frontierAt(growLog(numbered(130)), size)).toEqual(growLog(numbered(size)).frontier);
      }),
      { numRuns: 30 },
    );
  });
});

describe('SHA-256 written out', () => {
  it('is that of the runtime for messages of any length', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400, size: 'max' }), (message) => {
        expect(hexOf(sha256(message))).toBe(createHash('sha256').update(message).digest('hex'));
      }),
      { numRuns: 300 },
    );
  });
});
