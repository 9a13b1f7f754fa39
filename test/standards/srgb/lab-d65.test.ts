import { describe, expect, it } from 'vitest';
import { labFromSrgb, labFromSrgbBytes } from '../../../src/comparing/colour/lab.ts';
import { nameOf, readProbes } from '../probe.ts';

type Triple = readonly [number, number, number];

const probes = readProbes<{ rgb: Triple; digits: number }, Triple>(new URL('lab-d65.json', import.meta.url));

describe('screen colours become Lab as published', () => {
  it('9 probes are there', () => expect(probes).toHaveLength(9));

  it.each(probes.map((probe) => [nameOf(probe), probe] as const))('%s', (_, { given, expected }) => {
    const { l, a, b } = labFromSrgb(...given.rgb);
    [l, a, b].forEach((value, channel) => expect(value).toBeCloseTo(expected[channel]!, given.digits));
  });

  it('the quick table gives the same to a thousandth', () => {
    const out = new Float32Array(3 * probes.length);
    labFromSrgbBytes(Uint8Array.from(probes.flatMap(({ given }) => given.rgb)), out);
    probes
      .flatMap(({ expected }) => expected)
      .forEach((value, channel) => expect(Math.abs(out[channel]! - value), `channel ${channel}`).toBeLessThan(0.0011));
  });
});
