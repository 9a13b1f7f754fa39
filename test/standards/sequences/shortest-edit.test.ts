import { describe, expect, it } from 'vitest';
import { shortestEdit } from '../../../src/comparing/sequence/shortest-edit.ts';
import { nameOf, readProbes } from '../probe.ts';

const probes = readProbes<{ before: string; after: string }, { edits: number; keptOneOf: string[] }>(
  new URL('shortest-edit.json', import.meta.url),
);

describe('text is compared by a shortest edit script', () => {
  it('6 probes are there', () => expect(probes).toHaveLength(6));

  it.each(probes.map((probe) => [nameOf(probe), probe] as const))('%s', (_, { given, expected }) => {
    const runs = shortestEdit([...given.before], [...given.after]);
    const lengths = runs.filter((run) => run.kind !== 'kept').map((run) => run.length);
    expect(lengths.reduce((sum, length) => sum + length, 0)).toBe(expected.edits);
    const kept = runs.filter((run) => run.kind === 'kept');
    const letters = kept.map((run) => given.before.slice(run.beforeFrom, run.beforeFrom + run.length)).join('');
    expect(expected.keptOneOf).toContain(letters);
  });
});
