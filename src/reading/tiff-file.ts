/** An entry of a TIFF's directory: its tag and its values, as 16 or 32 bits. */
export type TiffEntry = readonly [tag: number, type: 'short' | 'long', ...values: number[]];

const TYPES = { short: { code: 3, bytes: 2 }, long: { code: 4, bytes: 4 } } as const;
const HEADER_BYTES = 8;
const ENTRY_BYTES = 12;
const INSIDE_BYTES = 4;

/**
 * A TIFF of one picture around its data, low bytes first.
 *
 * @param data  one strip after the other
 * @param entries  in any order; where the strips begin is added
 * @source TIFF 6.0 (1992) section 2
 */
export function tiffFile(data: readonly Uint8Array[], entries: readonly TiffEntry[]): Buffer {
  const starts: number[] = [];
  let end = HEADER_BYTES;
  for (const strip of data) {
    starts.push(end);
    end += strip.length;
  }
  const all: readonly TiffEntry[] = [...entries, [273, 'long', ...starts]];
  const directory = [...all].sort(([one], [other]) => one - other);
  const directoryAt = end + (end % 2);
  let behind = directoryAt + 2 + directory.length * ENTRY_BYTES + 4;
  const outside = ([, type, ...values]: TiffEntry): number => {
    const bytes = TYPES[type].bytes * values.length;
    return bytes <= INSIDE_BYTES ? 0 : bytes + (bytes % 2);
  };
  const file = Buffer.alloc(directory.reduce((sum, entry) => sum + outside(entry), behind));
  file.write('II*\0', 0, 'latin1');
  file.writeUInt32LE(directoryAt, 4);
  data.forEach((strip, index) => file.set(strip, starts[index]));
  file.writeUInt16LE(directory.length, directoryAt);
  directory.forEach((entry, index) => {
    const [tag, type, ...values] = entry;
    const at = directoryAt + 2 + index * ENTRY_BYTES;
    file.writeUInt16LE(tag, at);
    file.writeUInt16LE(TYPES[type].code, at + 2);
    file.writeUInt32LE(values.length, at + 4);
    let valuesAt = at + 8;
    if (outside(entry) > 0) {
      file.writeUInt32LE(behind, valuesAt);
      valuesAt = behind;
      behind += outside(entry);
    }
    for (const value of values) {
      if (type === 'short') file.writeUInt16LE(value, valuesAt);
      else file.writeUInt32LE(value, valuesAt);
      valuesAt += TYPES[type].bytes;
    }
  });
  return file;
}
