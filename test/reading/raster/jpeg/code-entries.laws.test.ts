import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { codeEntries, turnedBits } from '../../../../src/reading/raster/jpeg/code-entries.ts';
import type { CodeTable } from '../../../../src/reading/raster/jpeg/jpeg-frame.ts';

type Of = 'means' | 'waves';

/** A code with its value as it is read: where it begins, by how much the place moves on, the value. */
interface Read {
  readonly at: number;
  readonly advance: number;
  readonly value: number;
}

const END = 64;
/** Enough for the longest code with the longest value, whatever is read behind the last bit. */
const AHEAD = 32;

/** Any lengths of codes that leave room for each other: the leaves of a tree whose branches are split, some taken off again. */
const lengths = fc
  .array(fc.record({ leaf: fc.nat(), isDeepest: fc.boolean() }), { minLength: 1, maxLength: 80, size: 'max' })
  .chain((splits) => {
    const leaves = [0];
    for (const { leaf, isDeepest } of splits) {
      const at = isDeepest ? leaves.indexOf(Math.max(...leaves)) : leaf % leaves.length;
      if (leaves[at]! < 16) leaves.splice(at, 1, leaves[at]! + 1, leaves[at]! + 1);
    }
    return fc.subarray(leaves, { minLength: 1 });
  });

const symbol = fc.oneof(
  { weight: 4, arbitrary: fc.record({ run: fc.nat(15), size: fc.nat(4) }).map(({ run, size }) => (run << 4) | size) },
  { weight: 2, arbitrary: fc.constantFrom(0x00, 0xf0, 11, 10) },
  { weight: 1, arbitrary: fc.nat(255) },
);

const table: fc.Arbitrary<CodeTable> = lengths.chain((all) =>
  fc.array(symbol, { minLength: all.length, maxLength: all.length }).map((symbols) => ({
    counts: Uint8Array.from({ length: 16 }, (_, at) => all.filter((length) => length === at + 1).length),
    symbols: Uint8Array.from(symbols),
  })),
);

/** Codes of a table, shortest first, each as its bits. Source: ITU-T T.81, annex C, from memory. */
function codesOf({ counts }: CodeTable): readonly string[] {
  const codes: string[] = [];
  let code = 0;
  for (const [at, count] of counts.entries()) {
    for (let n = 0; n < count; n++) codes.push((code++).toString(2).padStart(at + 1, '0'));
    code *= 2;
  }
  return codes;
}

/** Coded data: codes of the table with any values, and then any bits. */
const coded = table.chain((codes) =>
  fc.record({
    codes: fc.constant(codes),
    bits: fc
      .tuple(
        fc.array(fc.tuple(fc.nat(), fc.nat(0x7ff)), { maxLength: 60, size: 'max' }),
        fc.array(fc.constantFrom('0', '1'), { maxLength: 60, size: 'max' }),
      )
      .map(([picks, rest]) => {
        const all = codesOf(codes);
        const written = picks.map(([pick, value]) => {
          const at = pick % all.length;
          const size = codes.symbols[at]! & 15;
          return (
            all[at]! +
            value
              .toString(2)
              .padStart(16, '0')
              .slice(16 - size)
          );
        });
        return written.join('') + rest.join('');
      }),
  }),
);

/**
 * Reads bit by bit up to the end or to what may not stand: a code is compared with every code of its length.
 *
 * @source ITU-T T.81, F.2.2, from memory: a mean's symbol is the number of its value's bits, at most 11; a wave's lower four
 * bits are that, at most 10, the upper four how many waves are nothing before it; 0 ends the block and 15 such waves with no
 * value go on by 16
 */
function readPlainly(codes: CodeTable, of: Of, bits: string): readonly Read[] {
  const symbols = new Map(codesOf(codes).map((code, at) => [code, codes.symbols[at]!]));
  const padded = bits + '0'.repeat(AHEAD);
  const reads: Read[] = [];
  for (let at = 0; at < bits.length;) {
    const length = Array.from({ length: 16 }, (_, less) => less + 1).find((so) =>
      symbols.has(padded.slice(at, at + so)),
    );
    if (length === undefined) break;
    const found = symbols.get(padded.slice(at, at + length))!;
    const size = of === 'means' ? found : found & 15;
    if (size > (of === 'means' ? 11 : 10)) break;
    if (of === 'waves' && size === 0 && found !== 0 && found !== 0xf0) break;
    const moved = found === 0 ? END : (found >> 4) + 1;
    const read = padded.slice(at + length, at + length + size);
    const value = size === 0 ? 0 : Number.parseInt(read, 2) - (read.startsWith('0') ? 2 ** size - 1 : 0);
    reads.push({ at, advance: of === 'means' ? 0 : moved, value });
    at += length + size;
  }
  return reads;
}

/** How often each kind of entry was come by. */
interface Seen {
  longer: number;
  unread: number;
  pairs: number;
}

/** The same by the entries, as their description has it. */
function readByEntries(entries: Uint32Array, bits: string, seen: Seen): readonly Read[] {
  const ahead = (at: number, count: number): number =>
    Number.parseInt([...bits.slice(at, at + count).padEnd(count, '0')].reverse().join('') || '0', 2);
  const [isUnread, isLonger] = [0x40, 0x80];
  const reads: Read[] = [];
  for (let at = 0; at < bits.length;) {
    const entry = 2 * ahead(at, 11);
    let [first, second] = [entries[entry]!, entries[entry + 1]!];
    if ((first & isLonger) !== 0 && (first & isUnread) === 0) {
      seen.longer += 1;
      [first, second] = [entries[2 * ((first >>> 16) + ahead(at + 11, 5))]!, 0];
    }
    if ((first & isLonger) !== 0) break;
    let [taken, value] = [first & 0x3f, (first | 0) >> 16];
    const advance = (first >> 8) & 0x7f;
    if ((first & isUnread) !== 0) {
      seen.unread += 1;
      // for means and waves alike: the value's bits follow, first to last; half of them are below nothing
      const size = first >>> 16;
      const read = bits
        .slice(at + (first & 0x3f))
        .padEnd(size, '0')
        .slice(0, size);
      value = Number.parseInt(read, 2) - (read.startsWith('0') ? 2 ** size - 1 : 0);
      [taken, second] = [(first & 0x3f) + size, 0];
    }
    reads.push({ at, advance, value });
    const [alone, onwards] = [second & 0x3f, (second >> 8) & 0x7f];
    if (onwards > 0) {
      seen.pairs += 1;
      expect(advance).toBeLessThan(END);
      if (at + alone < bits.length) reads.push({ at: at + alone, advance: onwards, value: (second | 0) >> 16 });
    } else if (second !== 0) expect(alone).toBe(taken);
    at += taken;
  }
  return reads;
}

describe('entries for what the next bits stand for', () => {
  it.each(['means', 'waves'] as const)('say of %s what the codes say that are read bit by bit', (of) => {
    const seen: Seen = { longer: 0, unread: 0, pairs: 0 };
    fc.assert(
      fc.property(coded, ({ codes, bits }) => {
        expect(readByEntries(codeEntries(codes, of)!, bits, seen)).toEqual(readPlainly(codes, of, bits));
      }),
      { numRuns: 250 },
    );
    expect([seen.longer > 0, seen.unread > 0, seen.pairs > 0]).toEqual([true, true, of === 'waves']);
  });

  it('are none where the codes have no room, and only there', () => {
    const counts = fc.array(fc.oneof(fc.constant(0), fc.nat(4), fc.nat(255)), { minLength: 16, maxLength: 16 });
    const mayStand = fc.tuple(lengths, fc.nat(15)).map(([all, more]) => {
      const room = Array.from({ length: 16 }, (_, at) => all.filter((length) => length === at + 1).length);
      return room.map((count, at) => (at === more ? count + 1 : count));
    });
    const found = new Set<boolean>();
    fc.assert(
      fc.property(fc.oneof(counts, mayStand), (numbers) => {
        // each code takes a part of all bits that can follow (Kraft's inequality)
        const isRoom = numbers.reduce((sum, count, at) => sum + count * 2 ** (15 - at), 0) <= 2 ** 16;
        const symbols = new Uint8Array(numbers.reduce((sum, count) => sum + count, 0));
        found.add(isRoom);
        expect(codeEntries({ counts: Uint8Array.from(numbers), symbols }, 'waves') !== null).toBe(isRoom);
      }),
      { numRuns: 300 },
    );
    expect(found.size).toBe(2);
  });

  it('are looked up by bits in the opposite order', () => {
    fc.assert(
      fc.property(fc.nat(0xffff), fc.integer({ min: 1, max: 16 }), (bits, count) => {
        const lowest = (bits % 2 ** count).toString(2).padStart(count, '0');
        expect(turnedBits(bits, count).toString(2).padStart(count, '0')).toBe([...lowest].reverse().join(''));
      }),
    );
  });
});
