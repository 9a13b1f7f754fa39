/** The 64 constants: the first 32 bits of the fractional parts of the cube roots of the first 64 primes. FIPS 180-4, 4.2.2 */
const K = firstBits((root) => Math.cbrt(root), 64);
/** The 8 first hash words, of square roots. FIPS 180-4, 5.3.3 */
const H0 = firstBits((root) => Math.sqrt(root), 8);

/**
 * SHA-256 of a message, and of its hash, again and again: the step that a key file's check repeats 600,000 times. The
 * runtime's own hash answers by promise, and so many promises would take ten times as long.
 *
 * @param first  the message of the first round
 * @param rounds  how often, at least once
 * @returns 32 bytes
 * @source FIPS 180-4 6.2; equal to the runtime's own in test/sealing/sha256-rounds.laws.test.ts
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

function firstBits(root: (prime: number) => number, count: number): Int32Array {
  const primes: number[] = [];
  for (let number = 2; primes.length < count; number++) {
    if (primes.every((prime) => number % prime !== 0)) primes.push(number);
  }
  return Int32Array.from(primes, (prime) => Math.floor((root(prime) % 1) * 2 ** 32));
}
