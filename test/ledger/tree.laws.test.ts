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
  sha256,
  verifyConsistency,
  verifyInclusion,
} from '../../src/ledger/index.ts';
import { growLog, numbered } from './grown-log.ts';
import { plainConsistency, plainInclusion, plainRoot } from './plain-tree.ts';

const hexes = (hashes: readonly Uint8Array[]) => hashes.map(hexOf);
const entriesOf = (atMost: number) => fc.array(fc.uint8Array({ maxLength: 90 }), { maxLength: atMost, size: 'max' });

/** Holds every proof of one log against the definition, and asks the verification about each. */
async function holdAgainstPlain(entries: readonly Uint8Array[]): Promise<void> {
  const log = growLog(entries);
  const size = entries.length;
  const root = plainRoot(entries);
  expect(hexOf(rootOfFrontier(log.frontier))).toBe(hexOf(root));
  expect(hexOf(await rootAt(log, size))).toBe(hexOf(root));
  expect(await frontierAt(log, size)).toEqual(log.frontier);
  for (let index = 0; index < size; index++) {
    const proof = plainInclusion(index, entries);
    expect(hexes(await proveInclusion(log, { index, size }))).toEqual(hexes(proof));
    expect(verifyInclusion({ leaf: plainRoot([entries[index]!]), index, size, root, proof })).toBe('holds');
  }
  for (let oldSize = 1; oldSize <= size; oldSize++) {
    const proof = plainConsistency(oldSize, entries);
    const oldRoot = plainRoot(entries.slice(0, oldSize));
    expect(hexes(await proveConsistency(log, { oldSize, newSize: size }))).toEqual(hexes(proof));
    expect(verifyConsistency({ oldSize, newSize: size, oldRoot, newRoot: root, proof })).toBe('holds');
  }
}

describe('the log, whatever is in it', () => {
  it('has the roots and proofs of the definition at every size up to 40', async () => {
    for (let size = 0; size <= 40; size++) await holdAgainstPlain(numbered(size));
  });

  it('has them with up to 200 random entries, some alike, some empty', async () => {
    await fc.assert(fc.asyncProperty(entriesOf(200), holdAgainstPlain), { numRuns: 12, examples: [[numbered(200)]] });
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
