import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shortestEdit, type EditRun } from '../../../src/comparing/sequence/shortest-edit.ts';

const words = fc.array(fc.constantFrom('a', 'b', 'c', 'd', 'e'), { maxLength: 40 });

function replay(runs: readonly EditRun[], before: readonly string[], after: readonly string[]): string[] {
  return runs.flatMap((run) => {
    if (run.kind === 'kept') return before.slice(run.beforeFrom, run.beforeFrom + run.length);
    return run.kind === 'inserted' ? after.slice(run.afterFrom, run.afterFrom + run.length) : [];
  });
}

function total(runs: readonly EditRun[], kinds: readonly EditRun['kind'][]): number {
  return runs.filter((run) => kinds.includes(run.kind)).reduce((sum, run) => sum + run.length, 0);
}

/** The plain twin: the whole table of longest common subsequences. */
function commonLength(before: readonly string[], after: readonly string[]): number {
  let row = new Array<number>(after.length + 1).fill(0);
  for (const word of before) {
    const next = [0];
    after.forEach((other, at) => next.push(word === other ? row[at]! + 1 : Math.max(row[at + 1]!, next[at]!)));
    row = next;
  }
  return row[after.length]!;
}

describe('the shortest edit', () => {
  it('turns the one list into the other', () => {
    fc.assert(
      fc.property(words, words, (before, after) => {
        const runs = shortestEdit(before, after);
        expect(replay(runs, before, after)).toEqual(after);
        expect(total(runs, ['kept', 'removed'])).toBe(before.length);
      }),
      { numRuns: 1000 },
    );
  });

  it('is as short as the plain table says: both lengths less twice what they share', () => {
    fc.assert(
      fc.property(words, words, (before, after) => {
        const edits = total(shortestEdit(before, after), ['removed', 'inserted']);
        expect(edits).toBe(before.length + after.length - 2 * commonLength(before, after));
      }),
      { numRuns: 1000 },
    );
  });

  it('tells the runs in order, without gaps, each as long as it can be, removed before inserted', () => {
    fc.assert(
      fc.property(words, words, (before, after) => {
        let [beforeAt, afterAt] = [0, 0];
        let last = '';
        for (const run of shortestEdit(before, after)) {
          expect({ ...run, length: 0 }).toEqual({
            kind: run.kind,
            beforeFrom: beforeAt,
            afterFrom: afterAt,
            length: 0,
          });
          expect(run.length).toBeGreaterThan(0);
          expect(['kept kept', 'removed removed', 'inserted inserted', 'inserted removed']).not.toContain(
            `${last} ${run.kind}`,
          );
          if (run.kind !== 'inserted') beforeAt += run.length;
          if (run.kind !== 'removed') afterAt += run.length;
          last = run.kind;
        }
      }),
      { numRuns: 300 },
    );
  });

  it('of a list with itself keeps everything in one run', () => {
    fc.assert(
      fc.property(fc.array(fc.string(), { minLength: 1, maxLength: 60 }), (list) => {
        expect(shortestEdit(list, list)).toEqual([{ kind: 'kept', beforeFrom: 0, afterFrom: 0, length: list.length }]);
      }),
    );
  });

  it('of two pages of 1500 words with nothing in common removes the one and inserts the other', () => {
    const page = (word: string) => Array.from({ length: 1500 }, (_, at) => `${word}${at}`);
    expect(shortestEdit(page('old'), page('new'))).toEqual([
      { kind: 'removed', beforeFrom: 0, afterFrom: 0, length: 1500 },
      { kind: 'inserted', beforeFrom: 1500, afterFrom: 0, length: 1500 },
    ]);
  });
});
