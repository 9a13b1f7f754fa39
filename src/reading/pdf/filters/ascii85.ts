const DIGIT = new Uint8Array(256).fill(255);
for (let code = 33; code <= 117; code += 1) DIGIT[code] = code - 33;
const Z = 0x7a;
const TILDE = 0x7e;

/**
 * Undoes ASCII85Decode. White space and stray bytes are passed over; the data end at `~`.
 *
 * @source ISO 32000-2 7.4.3
 */
export function decodeAscii85(coded: Uint8Array): Uint8Array {
  let at = 0;
  if (coded[0] === 0x3c && coded[1] === TILDE) at = 2;
  let zeros = 0;
  for (let from = coded.indexOf(Z); from !== -1; from = coded.indexOf(Z, from + 1)) zeros += 1;
  const plain = new Uint8Array(Math.ceil(((coded.length - zeros) * 4) / 5) + zeros * 4 + 4);
  let length = 0;
  let group = 0;
  let count = 0;
  const end = coded.length;
  while (at < end) {
    if (count === 0) {
      // Whole groups without white space inside: nearly all of a long stream.
      while (at + 5 <= end) {
        const a = DIGIT[coded[at]!]!;
        const b = DIGIT[coded[at + 1]!]!;
        const c = DIGIT[coded[at + 2]!]!;
        const d = DIGIT[coded[at + 3]!]!;
        const e = DIGIT[coded[at + 4]!]!;
        if ((a | b | c | d | e) > 127) break;
        const value = (((a * 85 + b) * 85 + c) * 85 + d) * 85 + e;
        plain[length] = value >>> 24;
        plain[length + 1] = value >>> 16;
        plain[length + 2] = value >>> 8;
        plain[length + 3] = value;
        length += 4;
        at += 5;
      }
      if (at >= end) break;
    }
    const byte = coded[at]!;
    at += 1;
    const digit = DIGIT[byte]!;
    if (digit !== 255) {
      group = group * 85 + digit;
      count += 1;
      if (count === 5) {
        plain[length] = group >>> 24;
        plain[length + 1] = group >>> 16;
        plain[length + 2] = group >>> 8;
        plain[length + 3] = group;
        length += 4;
        group = 0;
        count = 0;
      }
    } else if (byte === Z && count === 0) {
      length += 4;
    } else if (byte === TILDE) {
      break;
    }
  }
  if (count > 1) {
    for (let fill = count; fill < 5; fill += 1) group = group * 85 + 84;
    for (let index = 0; index < count - 1; index += 1) plain[length + index] = group >>> (24 - 8 * index);
    length += count - 1;
  }
  return plain.subarray(0, length);
}
