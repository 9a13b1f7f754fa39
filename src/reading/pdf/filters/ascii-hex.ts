/**
 * Undoes ASCIIHexDecode. What is no hexadecimal digit is passed over; the data end at `>`; an odd digit counts as if a 0
 * followed.
 *
 * @source ISO 32000-2 7.4.2
 */
export function decodeAsciiHex(coded: Uint8Array): Uint8Array {
  const plain = new Uint8Array((coded.length >> 1) + 1);
  let length = 0;
  let high = -1;
  for (const byte of coded) {
    if (byte === 0x3e) break;
    const digit = hexDigit(byte);
    if (digit === -1) continue;
    if (high === -1) {
      high = digit;
    } else {
      plain[length] = high * 16 + digit;
      length += 1;
      high = -1;
    }
  }
  if (high !== -1) {
    plain[length] = high * 16;
    length += 1;
  }
  return plain.subarray(0, length);
}

/** The value of a hexadecimal digit's character code, or -1. */
export function hexDigit(code: number): number {
  if (code >= 0x30 && code <= 0x39) return code - 0x30;
  const letter = code | 0x20;
  return letter >= 0x61 && letter <= 0x66 ? letter - 0x57 : -1;
}
