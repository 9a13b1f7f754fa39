import { createHash } from 'node:crypto';
import type { Hash } from 'node:crypto';

const BUFFER_BYTES = 2 ** 16;

/**
 * Writes values in the encoding of `witnessleaf-page/1` into a SHA-256. The letters are those of page-hash.md.
 *
 * @source src/reading/pdf/page-hash.md, "Values"; SHA-256 by FIPS 180-4
 */
export class HashWriter {
  readonly #hash: Hash = createHash('sha256');
  readonly #buffer = Buffer.allocUnsafe(BUFFER_BYTES);
  #length = 0;

  /** A single ASCII character. */
  mark(character: string): void {
    this.#room(1);
    this.#buffer[this.#length] = character.charCodeAt(0);
    this.#length += 1;
  }

  number(value: number): void {
    this.#room(9);
    this.#buffer[this.#length] = 0x23;
    this.#buffer.writeDoubleBE(value === 0 ? 0 : value, this.#length + 1);
    this.#length += 9;
  }

  boolean(value: boolean): void {
    this.mark(value ? 't' : 'f');
  }

  /** @param text  one character a byte */
  name(text: string): void {
    this.#text('/', text);
  }

  keyword(text: string): void {
    this.#text('!', text);
  }

  string(bytes: Uint8Array): void {
    this.#lengthMark('(', bytes.length);
    this.raw(bytes);
  }

  /** @param sha256  32 bytes */
  digest(sha256: Uint8Array): void {
    this.mark('@');
    this.raw(sha256);
  }

  /** Bytes as they are. */
  raw(bytes: Uint8Array): void {
    if (bytes.length > BUFFER_BYTES) {
      this.#flush();
      this.#hash.update(bytes);
      return;
    }
    this.#room(bytes.length);
    this.#buffer.set(bytes, this.#length);
    this.#length += bytes.length;
  }

  /** Ends the writing. */
  done(): Buffer {
    this.#flush();
    return this.#hash.digest();
  }

  #text(mark: string, text: string): void {
    this.#lengthMark(mark, text.length);
    if (text.length > BUFFER_BYTES) {
      this.raw(Buffer.from(text, 'latin1'));
      return;
    }
    this.#room(text.length);
    this.#length += this.#buffer.write(text, this.#length, 'latin1');
  }

  #lengthMark(mark: string, length: number): void {
    this.mark(mark);
    this.#room(4);
    this.#buffer.writeUInt32BE(length, this.#length);
    this.#length += 4;
  }

  #room(bytes: number): void {
    if (this.#length + bytes > BUFFER_BYTES) this.#flush();
  }

  #flush(): void {
    this.#hash.update(this.#buffer.subarray(0, this.#length));
    this.#length = 0;
  }
}
