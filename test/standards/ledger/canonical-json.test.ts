import { describe, expect, it } from 'vitest';
import { formatCanonicalJson } from '../../../src/model/index.ts';
import { refusalOf } from '../../refusal-of.ts';
import { nameOf, readProbes } from '../probe.ts';

const texts = readProbes<string, string>(new URL('canonical-json.json', import.meta.url));
const numbers = readProbes<string, string | null>(new URL('canonical-numbers.json', import.meta.url));

describe('what is signed is written as RFC 8785 has it', () => {
  it('34 probes are there', () => expect(texts.length + numbers.length).toBe(34));

  it.each(texts.map((probe) => [nameOf(probe), probe] as const))('%s', (_, { given, expected }) => {
    expect(formatCanonicalJson(JSON.parse(given))).toBe(expected);
  });

  it.each(numbers.map((probe) => [nameOf(probe), probe] as const))('%s', (_, { given, expected }) => {
    const value = numberOf(given);
    if (expected !== null) return expect(formatCanonicalJson(value)).toBe(expected);
    return expect(refusalOf(() => formatCanonicalJson(value))).toEqual({
      kind: 'malformed',
      pointer: '/',
      expected: 'a finite number',
      found: `${value}`,
    });
  });
});

/** The number that 16 hexadecimal digits of IEEE 754 stand for. */
function numberOf(hex: string): number {
  const view = new DataView(new ArrayBuffer(8));
  view.setBigUint64(0, BigInt(`0x${hex}`));
  return view.getFloat64(0);
}
