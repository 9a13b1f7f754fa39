import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { nameOf, readProbes } from '../probe.ts';

type Message = { readonly hex: string } | { readonly text: string; readonly times: number };

const probes = readProbes<Message, string>(new URL('sha256.json', import.meta.url));

describe('the hash of files, pages and pictures is SHA-256 as published', () => {
  it('15 probes are there', () => expect(probes).toHaveLength(15));

  it.each(probes.map((probe) => [nameOf(probe), probe] as const))('%s', (_, { given, expected }) => {
    const message =
      'hex' in given ? Buffer.from(given.hex, 'hex') : Buffer.from(given.text.repeat(given.times), 'ascii');
    expect(createHash('sha256').update(message).digest('hex')).toBe(expected);
  });

  it('a message handed over in pieces has the hash of the whole', () => {
    const pieces = createHash('sha256');
    for (let piece = 0; piece < 1000; piece++) pieces.update('a'.repeat(1000));
    expect(pieces.digest('hex')).toBe(probes.find((probe) => probe.says.startsWith('a million'))?.expected);
  });
});
