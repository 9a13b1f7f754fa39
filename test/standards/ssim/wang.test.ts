import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { structuralSimilarity } from '../../../src/comparing/likeness.ts';
import { greyFixture, SIDE } from '../grey-fixtures.ts';
import { nameOf, readProbes } from '../probe.ts';

const probes = readProbes<{ one: string; other: string }, number>(new URL('wang.json', import.meta.url));

describe('likeness of structure is SSIM as Wang has it', () => {
  it('11 probes are there', () => expect(probes).toHaveLength(11));

  it('the fixtures are the ones the values were computed on', () => {
    const sha256 = (name: string) => createHash('sha256').update(greyFixture(name)).digest('hex');
    expect({ A: sha256('A'), S: sha256('S') }).toEqual({
      A: '07465b3294c72436452082daa3a4f7110ee08df3f0f830688156c7509394017a',
      S: '7da8410698f3019e8bf1fb797dbf0eb4e5f47c5f38095d678f652e03dcaa3856',
    });
  });

  it.each(probes.map((probe) => [nameOf(probe), probe] as const))('%s', (_, { given, expected }) => {
    const [one, other] = [greyFixture(given.one), greyFixture(given.other)];
    // Published with six decimals.
    expect(structuralSimilarity(one, other, SIDE, SIDE)).toBeCloseTo(expected, 6);
    expect(structuralSimilarity(other, one, SIDE, SIDE)).toBeCloseTo(expected, 6);
  });
});
