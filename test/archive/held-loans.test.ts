import { describe, expect, it } from 'vitest';
import { holdLoans } from '../../src/archive/index.ts';
import { Refusal } from '../../src/model/index.ts';
import { laterRefusalOf } from './later-refusal-of.ts';

function lender(): {
  lent: string[];
  back: string[];
  lend: <T>(hash: string, use: (path: string) => Promise<T>) => Promise<T>;
} {
  const [lent, back]: [string[], string[]] = [[], []];
  return {
    lent,
    back,
    async lend(hash, use) {
      if (hash === 'damaged') throw new Refusal('unreadable', { file: hash, reason: 'it is damaged' });
      lent.push(hash);
      try {
        return await use(`/blobs/${hash}`);
      } finally {
        back.push(hash);
      }
    },
  };
}

const later = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms));

describe('a blob that is lent for many pages', () => {
  it('is lent once, and given back when nobody has used it for a while', async () => {
    const blobs = lender();
    const loans = holdLoans(blobs, 30);
    expect(await Promise.all([loans.lend('a', async (path) => path), loans.lend('a', async () => 2)])).toEqual([
      '/blobs/a',
      2,
    ]);
    await loans.lend('a', async () => undefined);
    expect([blobs.lent, blobs.back]).toEqual([['a'], []]);
    await later(80);
    expect(blobs.back).toEqual(['a']);
    await loans.lend('a', async () => undefined);
    loans.close();
    await later(0);
    expect([blobs.lent, blobs.back]).toEqual([
      ['a', 'a'],
      ['a', 'a'],
    ]);
  });

  it('is refused each time where it is damaged', async () => {
    const loans = holdLoans(lender(), 30);
    const refusal = { kind: 'unreadable', file: 'damaged', reason: 'it is damaged' };
    for (let time = 0; time < 2; time += 1) {
      expect(await laterRefusalOf(loans.lend('damaged', async () => 1))).toEqual(refusal);
    }
  });
});
