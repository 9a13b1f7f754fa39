/** FIPS 180-4 5.3.3. */
const H0 = [0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19];

/** FIPS 180-4 4.2.2: of the cube roots of the first 64 primes, the first 32 bits behind the point. */
// prettier-ignore
const K = Uint32Array.of(
  0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
  0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
  0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
  0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
  0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
  0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
  0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
  0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
);

/**
 * SHA-256 of bytes that are in memory: entries and pairs of hashes, not files. It answers at once, so that an entry can
 * be hashed and appended within one transaction of the archive, and it runs where the browser offers no cryptography
 * (a page opened without HTTPS).
 *
 * @returns 32 bytes
 * @source FIPS 180-4 5 and 6.2; values in test/standards/ledger and test/standards/fips180
 */
export function sha256(message: Uint8Array): Uint8Array<ArrayBuffer> {
  return sha256Rounds(message, 1);
}

/**
 * SHA-256 of a message, and of its hash, again and again: the step that a key file's check repeats 600,000 times. The
 * runtime's own hash answers by promise, and so many promises would take ten times as long.
 *
 * @param first  the message of the first round
 * @param rounds  how often, at least once
 * @returns 32 bytes
 * @source FIPS 180-4 6.2; equal to the runtime's own in test/model/sha256.laws.test.ts
 */
export function sha256Rounds(first: Uint8Array, rounds: number): Uint8Array<ArrayBuffer> {
  const state = new Int32Array(8);
  hashInto(state, padded(first));
  // A hash of 32 bytes is padded to one block, and its padding never changes.
  const block = new Int32Array(16);
  block[8] = 0x80000000;
  block[15] = 256;
  for (let round = 1; round < rounds; round++) {
    block.set(state);
    state.set(H0);
    compress(state, block, 0);
  }
  const bytes = new Uint8Array(32);
  const view = new DataView(bytes.buffer);
  state.forEach((word, at) => view.setInt32(at * 4, word));
  return bytes;
}

function hashInto(state: Int32Array, words: Int32Array): void {
  state.set(H0);
  for (let at = 0; at < words.length; at += 16) compress(state, words, at);
}

/** The message, a one bit, zeros, and its length in bits, as words. FIPS 180-4, 5.1.1 */
function padded(message: Uint8Array): Int32Array {
  const bytes = new Uint8Array(Math.ceil((message.length + 9) / 64) * 64);
  bytes.set(message);
  bytes[message.length] = 0x80;
  const view = new DataView(bytes.buffer);
  view.setUint32(bytes.length - 8, Math.floor(message.length / 2 ** 29));
  view.setUint32(bytes.length - 4, message.length * 8);
  return Int32Array.from({ length: bytes.length / 4 }, (_, at) => view.getInt32(at * 4));
}

const W = new Int32Array(64);

/** One block into the state. FIPS 180-4, 6.2.2 */
function compress(state: Int32Array, words: Int32Array, begin: number): void {
  for (let t = 0; t < 16; t++) W[t] = words[begin + t]!;
  for (let t = 16; t < 64; t++) {
    const [far, near] = [W[t - 15]!, W[t - 2]!];
    const small0 = ((far >>> 7) | (far << 25)) ^ ((far >>> 18) | (far << 14)) ^ (far >>> 3);
    const small1 = ((near >>> 17) | (near << 15)) ^ ((near >>> 19) | (near << 13)) ^ (near >>> 10);
    W[t] = (small1 + W[t - 7]! + small0 + W[t - 16]!) | 0;
  }
  let a = state[0]!;
  let b = state[1]!;
  let c = state[2]!;
  let d = state[3]!;
  let e = state[4]!;
  let f = state[5]!;
  let g = state[6]!;
  let h = state[7]!;
  for (let t = 0; t < 64; t++) {
    const big1 = ((e >>> 6) | (e << 26)) ^ ((e >>> 11) | (e << 21)) ^ ((e >>> 25) | (e << 7));
    const one = (h + big1 + ((e & f) ^ (~e & g)) + K[t]! + W[t]!) | 0;
    const big0 = ((a >>> 2) | (a << 30)) ^ ((a >>> 13) | (a << 19)) ^ ((a >>> 22) | (a << 10));
    const two = (big0 + ((a & b) ^ (a & c) ^ (b & c))) | 0;
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
