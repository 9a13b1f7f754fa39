import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { layOver } from '../../../src/archive/files/lay-over.ts';

describe('pages laid over a book', () => {
  it('stand where they replace others, in their order, and every other page stays', () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { minLength: 1, maxLength: 40 }), (replaced) => {
        const below = replaced.map((_one, index) => `old ${index + 1}`);
        const numbers = replaced.flatMap((isReplaced, index) => (isReplaced ? [index + 1] : []));
        const ranges: { first: number; last: number }[] = [];
        for (const number of numbers) {
          const last = ranges.at(-1);
          if (last?.last === number - 1) last.last = number;
          else ranges.push({ first: number, last: number });
        }
        const above = numbers.map((number) => `new ${number}`);
        const expected = replaced.map((isReplaced, index) => `${isReplaced ? 'new' : 'old'} ${index + 1}`);
        expect(layOver(below, above, ranges)).toEqual(expected);
      }),
    );
  });
});
