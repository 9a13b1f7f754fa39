import { Refusal } from '../../../model/index.ts';

/** Bytes written one after the other, up to a limit. */
export class GrowingBytes {
  #bytes: Uint8Array;
  #length = 0;
  readonly #limit: number;

  constructor(expected: number, limit: number) {
    this.#bytes = new Uint8Array(Math.max(64, Math.min(expected, limit)));
    this.#limit = limit;
  }

  get length(): number {
    return this.#length;
  }

  /** @throws {Refusal} too-large: over the limit */
  reserve(more: number): void {
    const needed = this.#length + more;
    if (needed > this.#limit) throw unfoldsTooFar(this.#limit, needed);
    if (needed <= this.#bytes.length) return;
    const grown = new Uint8Array(Math.min(this.#limit, Math.max(needed, this.#bytes.length * 2)));
    grown.set(this.#bytes.subarray(0, this.#length));
    this.#bytes = grown;
  }

  push(byte: number): void {
    this.reserve(1);
    this.#bytes[this.#length] = byte;
    this.#length += 1;
  }

  append(bytes: Uint8Array): void {
    this.reserve(bytes.length);
    this.#bytes.set(bytes, this.#length);
    this.#length += bytes.length;
  }

  fill(byte: number, count: number): void {
    this.reserve(count);
    this.#bytes.fill(byte, this.#length, this.#length + count);
    this.#length += count;
  }

  /** Appends `count` bytes that stand `distance` before the end. */
  repeat(start: number, count: number): void {
    this.reserve(count);
    this.#bytes.copyWithin(this.#length, start, start + count);
    this.#length += count;
  }

  at(index: number): number {
    return this.#bytes[index] ?? 0;
  }

  done(): Uint8Array {
    return this.#bytes.subarray(0, this.#length);
  }
}

/** The refusal of a stream that unfolds to more than it may. */
export function unfoldsTooFar(limit: number, found: number): Refusal<'too-large'> {
  return new Refusal('too-large', { what: 'a stream when unfolded', limit, found, unit: 'bytes' });
}
