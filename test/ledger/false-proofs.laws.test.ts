import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  proveConsistency,
  proveInclusion,
  rootAt,
  verifyConsistency,
  verifyInclusion,
} from '../../src/ledger/index.ts';
import { growLog, numbered } from './grown-log.ts';

const LOG = growLog(numbered(200));
const sizes = fc.integer({ min: 1, max: 200 });
const stray = fc.uint8Array({ minLength: 32, maxLength: 32 });

type Proof = readonly Uint8Array[];

/** One way to spoil a list of hashes, decided by random numbers; null where the list is too short for it. */
const SPOILS: Readonly<Record<string, (proof: Proof, at: number, other: Uint8Array) => Proof | null>> = {
  'a bit turned': (proof, at) => changed(proof, at, (hash) => hash.map((byte, i) => (i === at % 32 ? byte ^ 8 : byte))),
  'a hash too many': (proof, at, other) => proof.toSpliced(at % (proof.length + 1), 0, other),
  'a hash twice': (proof, at) =>
    proof.length === 0 ? null : proof.toSpliced(at % proof.length, 0, proof[at % proof.length]!),
  'a hash left out': (proof, at) => (proof.length === 0 ? null : proof.toSpliced(at % proof.length, 1)),
  'two neighbours swapped': (proof, at) =>
    proof.length < 2
      ? null
      : proof.toSpliced(
          at % (proof.length - 1),
          2,
          ...proof
            .slice(at % (proof.length - 1))
            .slice(0, 2)
            .reverse(),
        ),
  'a hash cut short': (proof, at) => changed(proof, at, (hash) => hash.subarray(1)),
  'a hash with a byte more': (proof, at) => changed(proof, at, (hash) => Uint8Array.of(...hash, 0)),
  'another hash in place': (proof, at, other) => changed(proof, at, () => other),
};

function changed(proof: Proof, at: number, change: (hash: Uint8Array) => Uint8Array): Proof | null {
  return proof.length === 0 ? null : proof.with(at % proof.length, change(proof[at % proof.length]!));
}

describe.each(Object.entries(SPOILS))('a proof with %s', (_, spoil) => {
  it('shows no entry to be in the log', async () => {
    let tried = 0;
    await fc.assert(
      fc.asyncProperty(sizes, fc.nat(), fc.nat(), stray, async (size, pick, at, other) => {
        const index = pick % size;
        const proof = spoil(await proveInclusion(LOG, { index, size }), at, other);
        if (proof === null) return;
        tried++;
        const root = await rootAt(LOG, size);
        expect(verifyInclusion({ leaf: LOG.leaves[index]!, index, size, root, proof })).not.toBe('holds');
      }),
    );
    expect(tried).toBeGreaterThan(50);
  });

  it('shows no log to be the beginning of another', async () => {
    let tried = 0;
    await fc.assert(
      fc.asyncProperty(sizes, fc.nat(), fc.nat(), stray, async (newSize, pick, at, other) => {
        const oldSize = 1 + (pick % newSize);
        const proof = spoil(await proveConsistency(LOG, { oldSize, newSize }), at, other);
        if (proof === null) return;
        tried++;
        const [oldRoot, newRoot] = [await rootAt(LOG, oldSize), await rootAt(LOG, newSize)];
        expect(verifyConsistency({ oldSize, newSize, oldRoot, newRoot, proof })).not.toBe('holds');
      }),
    );
    expect(tried).toBeGreaterThan(50);
  });
});

describe('a true proof', () => {
  it('says nothing of another entry, another place or another root', async () => {
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 2, max: 200 }), fc.nat(), fc.nat(), async (size, pick, step) => {
        const index = pick % size;
        const elsewhere = (index + 1 + (step % (size - 1))) % size;
        const proof = await proveInclusion(LOG, { index, size });
        const claim = { leaf: LOG.leaves[index]!, index, size, root: await rootAt(LOG, size), proof };
        const otherRoot = await rootAt(LOG, size - 1);
        expect([
          verifyInclusion({ ...claim, leaf: LOG.leaves[elsewhere]! }),
          verifyInclusion({ ...claim, root: otherRoot }),
        ]).toEqual(['other-root', 'other-root']);
        expect(verifyInclusion({ ...claim, index: elsewhere })).not.toBe('holds');
      }),
    );
  });

  it('says nothing of another beginning or another end', async () => {
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 2, max: 200 }), fc.nat(), fc.nat(), async (newSize, pick, step) => {
        const oldSize = 1 + (pick % newSize);
        const otherSize = 1 + ((oldSize + (step % (newSize - 1))) % newSize);
        const proof = await proveConsistency(LOG, { oldSize, newSize });
        const [oldRoot, newRoot] = [await rootAt(LOG, oldSize), await rootAt(LOG, newSize)];
        const claim = { oldSize, newSize, oldRoot, newRoot, proof };
        expect(verifyConsistency({ ...claim, oldSize: otherSize })).not.toBe('holds');
        expect(verifyConsistency({ ...claim, oldRoot: await rootAt(LOG, otherSize) })).not.toBe('holds');
        expect(verifyConsistency({ ...claim, newRoot: await rootAt(LOG, newSize - 1) })).not.toBe('holds');
      }),
    );
  });
});
