/**
 * SHA-256 of bytes that are in memory: entries and pairs of hashes, not files. It answers at once, so that an entry can
 * be hashed and appended within one transaction of the archive, and it runs where the browser offers no cryptography
 * (a page opened without HTTPS).
 *
 * @returns 32 bytes
 * @source FIPS 180-4 5 and 6.2; values in test/standards/ledger and test/standards/fips180
 */
export function sha256(message: Uint8Array): Uint8Array<ArrayBuffer> {
  const padded = pad(message);
  const state = Uint32Array.from(START);
  const schedule = new Uint32Array(64);
  for (let block = 0; block < padded.byteLength; block += 64) compress(state, schedule, padded, block);
  const digest = new DataView(new ArrayBuffer(32));
  state.forEach((word, index) => digest.setUint32(4 * index, word));
  return new Uint8Array(digest.buffer);
}

/** FIPS 180-4 5.3.3. */
const START = [0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19];

/** FIPS 180-4 4.2.2: of the cube roots of the first 64 primes, the first 32 bits behind the point. */
// prettier-ignore
const ROUNDS = Uint32Array.of(
  0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
  0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
  0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
  0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
  0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
  0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
  0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
  0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
);

/** FIPS 180-4 5.1.1: a one, noughts, and the length in bits, to whole blocks of 64 bytes. */
function pad(message: Uint8Array): DataView {
  const length = message.length;
  const padded = new Uint8Array(Math.ceil((length + 9) / 64) * 64);
  padded.set(message);
  padded[length] = 0x80;
  const view = new DataView(padded.buffer);
  view.setUint32(padded.length - 8, Math.floor(length / 2 ** 29));
  view.setUint32(padded.length - 4, (length << 3) >>> 0);
  return view;
}

/** FIPS 180-4 6.2.2: takes the block at `offset` into the state. */
function compress(state: Uint32Array, schedule: Uint32Array, padded: DataView, offset: number): void {
  for (let t = 0; t < 16; t++) schedule[t] = padded.getUint32(offset + 4 * t);
  for (let t = 16; t < 64; t++) {
    const near = schedule[t - 2]!;
    const far = schedule[t - 15]!;
    const small1 = turn(near, 17) ^ turn(near, 19) ^ (near >>> 10);
    const small0 = turn(far, 7) ^ turn(far, 18) ^ (far >>> 3);
    schedule[t] = small1 + schedule[t - 7]! + small0 + schedule[t - 16]!;
  }
  // Eight variables moved one by one: as two lists exchanged, this took five times as long.
  let a = state[0]!;
  let b = state[1]!;
  let c = state[2]!;
  let d = state[3]!;
  let e = state[4]!;
  let f = state[5]!;
  let g = state[6]!;
  let h = state[7]!;
  for (let t = 0; t < 64; t++) {
    const choice = (e & f) ^ (~e & g);
    const one = (h + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + choice + ROUNDS[t]! + schedule[t]!) | 0;
    const majority = (a & b) ^ (a & c) ^ (b & c);
    const two = ((turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + majority) | 0;
    h = g;
    g = f;
    f = e;
    e = (d + one) | 0;
    d = c;
    c = b;
    b = a;
    a = (one + two) | 0;
  }
  state[0]! += a;
  state[1]! += b;
  state[2]! += c;
  state[3]! += d;
  state[4]! += e;
  state[5]! += f;
  state[6]! += g;
  state[7]! += h;
}

/** A word turned to the right. */
function turn(word: number, bits: number): number {
  return (word >>> bits) | (word << (32 - bits));
}
