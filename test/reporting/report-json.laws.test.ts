import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { layOutJson } from '../../src/reporting/json-layout.ts';
import type { Json } from '../../src/reporting/json-layout.ts';

describe('the layout of JSON', () => {
  it('never changes a value, and breaks each list and object that does not fit on a line of 120 characters', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 4 }), (value) => {
        const text = layOutJson(value as Json);
        expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(value)));
        const flat = text.split('\n').filter((line) => /[[{].*[\]}],?$/.test(line) && isWhole(line));
        for (const line of flat) expect(line.length).toBeLessThanOrEqual(120);
      }),
      { numRuns: 300 },
    );
  });

  it('lays a value out the same however often it is read and printed', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 4 }), (value) => {
        const once = layOutJson(value as Json);
        expect(layOutJson(JSON.parse(once) as Json)).toBe(once);
      }),
      { numRuns: 300 },
    );
  });
});

/** Whether a line holds a whole list or object, with or without its name: one that could have been broken. */
function isWhole(line: string): boolean {
  try {
    const named: unknown = JSON.parse(
      `{${line
        .trim()
        .replace(/^(?!")/, '"":')
        .replace(/,$/, '')}}`,
    );
    const [value] = Object.values(named as Record<string, unknown>);
    return typeof value === 'object' && value !== null && Object.keys(value).length > 0;
  } catch {
    return false;
  }
}
