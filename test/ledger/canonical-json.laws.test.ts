import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalBytes, formatCanonicalJson, parseCanonicalJson } from '../../src/model/index.ts';

/** Any JSON a parser can give; names and texts of whole characters from all of Unicode. */
const json = fc.json({ stringUnit: 'binary', maxDepth: 6 }).map((text) => JSON.parse(text) as unknown);

describe('canonical JSON, whatever the value', () => {
  it('reads back as the same value and writes back as the same bytes', () => {
    fc.assert(
      fc.property(json, (value) => {
        const bytes = canonicalBytes(value);
        const again = parseCanonicalJson(bytes);
        expect(JSON.stringify(sorted(again))).toBe(JSON.stringify(sorted(value)));
        expect(canonicalBytes(again)).toEqual(bytes);
      }),
    );
  });

  it('does not depend on the order in which members were added', () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string({ unit: 'binary' }), fc.integer(), { noNullPrototype: true }), (value) => {
        const turned = Object.fromEntries(Object.entries(value).reverse());
        expect(formatCanonicalJson(turned)).toBe(formatCanonicalJson(value));
      }),
    );
  });
});

/** Members in one order all through, built the plain way, so that two values can be held side by side. */
function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (value === null || typeof value !== 'object') return value;
  const members = value as Record<string, unknown>;
  return Object.keys(members)
    .sort()
    .map((name) => [name, sorted(members[name])]);
}
