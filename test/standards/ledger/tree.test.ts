import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import {
  hashLeaf,
  hashNode,
  hexOf,
  proveConsistency,
  proveInclusion,
  rootAt,
  rootOfFrontier,
  verifyConsistency,
  verifyInclusion,
} from '../../../src/ledger/index.ts';
import { bytesOf, growLog } from '../../ledger/grown-log.ts';
import { nameOf, readProbes } from '../probe.ts';

const leaves = readProbes<{ leaf: string }, string>(new URL('leaves.json', import.meta.url));
const roots = readProbes<number, string>(new URL('roots.json', import.meta.url));
const inclusions = readProbes<{ index: number; size: number }, string[]>(new URL('inclusion.json', import.meta.url));
const consistencies = readProbes<{ oldSize: number; newSize: number }, string[]>(
  new URL('consistency.json', import.meta.url),
);

const entries = leaves.slice(0, 8).map(({ given }) => bytesOf(given.leaf));
const log = growLog(entries);
const root = (size: number) => bytesOf(roots[size]!.expected);
const hexes = (hashes: readonly Uint8Array[]) => hashes.map(hexOf);

describe('the log is hashed as RFC 9162 has it', () => {
  it('35 probes are there', () => {
    expect(leaves.length + roots.length + inclusions.length + consistencies.length).toBe(35);
  });

  it.each(leaves.map((probe) => [nameOf(probe), probe] as const))('%s', (_, { given, expected }) => {
    expect(hexOf(hashLeaf(bytesOf(given.leaf)))).toBe(expected);
  });

  it('a pair of hashes is marked as one (R: transparency-dev/merkle rfc6962/rfc6962_test.go, by its first level)', () => {
    const pair = hashNode({ left: bytesOf(leaves[0]!.expected), right: bytesOf(leaves[1]!.expected) });
    expect(hexOf(pair)).toBe('fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125');
  });

  it.each(roots.map((probe) => [nameOf(probe), probe] as const))('%s', async (_, { given, expected }) => {
    expect(hexOf(rootOfFrontier(growLog(entries.slice(0, given)).frontier))).toBe(expected);
    expect(hexOf(await rootAt(log, given))).toBe(expected);
  });

  it.each(inclusions.map((probe) => [nameOf(probe), probe] as const))('%s', async (_, { given, expected }) => {
    expect(hexes(await proveInclusion(log, given))).toEqual(expected);
    const claim = { ...given, leaf: bytesOf(leaves[given.index]!.expected), root: root(given.size) };
    expect(verifyInclusion({ ...claim, proof: expected.map(bytesOf) })).toBe('holds');
  });

  it.each(consistencies.map((probe) => [nameOf(probe), probe] as const))('%s', async (_, { given, expected }) => {
    expect(hexes(await proveConsistency(log, given))).toEqual(expected);
    const claim = { ...given, oldRoot: root(given.oldSize), newRoot: root(given.newSize) };
    expect(verifyConsistency({ ...claim, proof: expected.map(bytesOf) })).toBe('holds');
  });

  it('all 72 proofs of up to eight entries are those of two other programs (D)', async () => {
    const line = (...parts: (string | number)[]) => `${parts.join(' ')}\n`;
    let text = '';
    for (let size = 1; size <= 8; size++) {
      for (let index = 0; index < size; index++) {
        text += line('I', index, size, ...hexes(await proveInclusion(log, { index, size })));
      }
    }
    for (let newSize = 1; newSize <= 8; newSize++) {
      for (let oldSize = 1; oldSize <= newSize; oldSize++) {
        text += line('C', oldSize, newSize, ...hexes(await proveConsistency(log, { oldSize, newSize })));
      }
    }
    expect(text.split('\n')).toHaveLength(73);
    expect(createHash('sha256').update(text).digest('hex')).toBe(
      'fdfce8531a2251ca9e047331e38badc56d30f9d04e284ff0c908cff93838078d',
    );
  });

  it('130 entries of one byte each, 00 to 81, have the root of two other programs (D)', () => {
    const grown = growLog(Array.from({ length: 130 }, (_, byte) => Uint8Array.of(byte)));
    expect(hexOf(rootOfFrontier(grown.frontier))).toBe(
      'f05d2f5ef24c72dd70b0a8f28e576b3acaf944c00e014524c47aa42325d7d1c3',
    );
  });
});
