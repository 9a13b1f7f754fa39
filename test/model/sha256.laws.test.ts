import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sha256Rounds } from '../../src/model/sha256.ts';
import { nameOf, readProbes } from '../standards/probe.ts';

type Message = { readonly hex: string } | { readonly text: string; readonly times: number };

const probes = readProbes<Message, string>(new URL('../standards/fips180/sha256.json', import.meta.url));

describe('the hash that a key file’s check repeats', () => {
  it.each(probes.map((probe) => [nameOf(probe), probe] as const))('%s', (_, { given, expected }) => {
    const message =
      'hex' in given ? Buffer.from(given.hex, 'hex') : Buffer.from(given.text.repeat(given.times), 'ascii');
    expect(Buffer.from(sha256Rounds(message, 1)).toString('hex')).toBe(expected);
  });

  it('repeated is the runtime’s own hash repeated, for any message', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), fc.integer({ min: 1, max: 20 }), (message, rounds) => {
        let hash = Buffer.from(message);
        for (let round = 0; round < rounds; round++) hash = createHash('sha256').update(hash).digest();
        expect(Buffer.from(sha256Rounds(message, rounds))).toEqual(hash);
      }),
    );
  });
});
