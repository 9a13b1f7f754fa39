import { inflateSync } from 'node:zlib';

const SIGNATURE = 'wOFF';
const HEADER_BYTES = 44;
const ENTRY_BYTES = 20;
const SFNT_HEADER_BYTES = 12;
const SFNT_ENTRY_BYTES = 16;

/**
 * A font without the compression that it travels in: the library that sets type would inflate a table in JavaScript each
 * time it looks at one, which is most of the time of a short document.
 *
 * @param woff  a file in WOFF 1.0, of ours: it is not checked against a hostile one
 * @returns the same tables as an OpenType file
 * @source WOFF File Format 1.0, 3 to 5, and OpenType 1.9 “otff”, from memory; the test sets type with both
 */
export function unwrapWoff(woff: Buffer): Buffer {
  if (woff.toString('latin1', 0, 4) !== SIGNATURE) throw new Error('a font of ours that is no WOFF 1.0');
  const count = woff.readUInt16BE(12);
  const tables = Array.from({ length: count }, (_, index) => tableAt(woff, HEADER_BYTES + ENTRY_BYTES * index));
  const head = Buffer.alloc(SFNT_HEADER_BYTES + SFNT_ENTRY_BYTES * count);
  woff.copy(head, 0, 4, 8);
  const power = Math.floor(Math.log2(count));
  head.writeUInt16BE(count, 4);
  head.writeUInt16BE(2 ** power * 16, 6);
  head.writeUInt16BE(power, 8);
  head.writeUInt16BE(count * 16 - 2 ** power * 16, 10);
  let at = head.length;
  const bodies = tables.map(({ tag, checksum, data }, index) => {
    const entry = SFNT_HEADER_BYTES + SFNT_ENTRY_BYTES * index;
    head.write(tag, entry, 'latin1');
    head.writeUInt32BE(checksum, entry + 4);
    head.writeUInt32BE(at, entry + 8);
    head.writeUInt32BE(data.length, entry + 12);
    const padded = Buffer.concat([data, Buffer.alloc(-data.length & 3)]);
    at += padded.length;
    return padded;
  });
  return Buffer.concat([head, ...bodies]);
}

function tableAt(
  woff: Buffer,
  entry: number,
): { readonly tag: string; readonly checksum: number; readonly data: Buffer } {
  const [offset, packed, bytes, checksum] = [4, 8, 12, 16].map((field) => woff.readUInt32BE(entry + field));
  const data = woff.subarray(offset, (offset ?? 0) + (packed ?? 0));
  return {
    tag: woff.toString('latin1', entry, entry + 4),
    checksum: checksum ?? 0,
    // A table that would not become smaller lies there as it is.
    data: packed === bytes ? data : inflateSync(data),
  };
}
