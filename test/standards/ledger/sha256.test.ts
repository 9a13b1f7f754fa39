import { describe, expect, it } from 'vitest';
import { hexOf } from '../../../src/ledger/index.ts';
import { sha256 } from '../../../src/model/index.ts';
import { nameOf, readProbes } from '../probe.ts';

type Message = { readonly hex: string } | { readonly text: string; readonly times: number };

const probes = readProbes<Message, string>(new URL('../fips180/sha256.json', import.meta.url));

describe('the log’s own hash is SHA-256 as published', () => {
  it('15 probes are there', () => expect(probes).toHaveLength(15));

  it.each(probes.map((probe) => [nameOf(probe), probe] as const))('%s', (_, { given, expected }) => {
    const message =
      'hex' in given ? Buffer.from(given.hex, 'hex') : Buffer.from(given.text.repeat(given.times), 'ascii');
    expect(hexOf(sha256(message))).toBe(expected);
  });
});
