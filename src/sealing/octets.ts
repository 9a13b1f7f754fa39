/** A copy that owns its whole buffer: a view into a larger one is read wrongly where only the buffer is looked at. */
export function ownBytes(bytes: Uint8Array): Uint8Array<ArrayBuffer> {
  return new Uint8Array(bytes);
}

/** Whether two runs of bytes are the same. */
export function sameBytes(one: Uint8Array, other: Uint8Array): boolean {
  return one.length === other.length && one.every((byte, at) => byte === other[at]);
}

/** Which comes first, byte by byte; of two where one begins the other, the shorter. */
export function orderBytes(one: Uint8Array, other: Uint8Array): number {
  for (let at = 0; at < one.length && at < other.length; at++) {
    if (one[at] !== other[at]) return one[at]! - other[at]!;
  }
  return one.length - other.length;
}

/** Lower-case hexadecimal digits, two a byte. */
export function formatHex(bytes: Uint8Array): string {
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
