const ESCAPES: Readonly<Record<number, number>> = { 0x6e: 10, 0x72: 13, 0x74: 9, 0x62: 8, 0x66: 12 };

/**
 * The bytes that a literal string stands for, and where it ends.
 *
 * @param from  just after the opening parenthesis
 * @returns `end` just after the closing one, or the end of `source` where it is missing
 * @source ISO 32000-2 7.3.4.2; an end of line, however written, is one line feed
 */
export function readLiteralString(
  source: Uint8Array,
  from: number,
): { readonly bytes: Uint8Array; readonly end: number } {
  const bytes: number[] = [];
  let depth = 1;
  let at = from;
  while (at < source.length) {
    const byte = source[at]!;
    at += 1;
    if (byte === 0x5c) {
      const escaped = source[at];
      at += 1;
      if (escaped === undefined) break;
      if (escaped >= 0x30 && escaped <= 0x37) {
        let value = escaped - 0x30;
        for (let digits = 1; digits < 3 && isOctal(source[at]); digits += 1) {
          value = value * 8 + source[at]! - 0x30;
          at += 1;
        }
        bytes.push(value & 0xff);
      } else if (escaped === 0x0d) {
        if (source[at] === 0x0a) at += 1;
      } else if (escaped !== 0x0a) {
        bytes.push(ESCAPES[escaped] ?? escaped);
      }
    } else if (byte === 0x0d) {
      if (source[at] === 0x0a) at += 1;
      bytes.push(0x0a);
    } else if (byte === 0x28) {
      depth += 1;
      bytes.push(byte);
    } else if (byte === 0x29) {
      depth -= 1;
      if (depth === 0) break;
      bytes.push(byte);
    } else {
      bytes.push(byte);
    }
  }
  return { bytes: Uint8Array.from(bytes), end: at };
}

function isOctal(byte: number | undefined): boolean {
  return byte !== undefined && byte >= 0x30 && byte <= 0x37;
}
