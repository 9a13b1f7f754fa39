import { createHash } from 'node:crypto';
import type { Hash } from 'node:crypto';
import { closeSync, fstatSync, readSync } from 'node:fs';
import { ReadInPlaces } from './read-in-places.ts';
import { LEAST_CUT } from './skim-file.ts';
import { ObjectSkimmer } from './skim-object.ts';

/** Where data of a stream lie in a file, as they are coded there, and what they hash to. */
export interface HashedData {
  readonly at: number;
  readonly bytes: number;
  readonly sha256: Uint8Array;
}

/** A file that was read to its end while it arrived. */
export interface ArrivedFile {
  /** Of its bytes as they lie on disk, lower-case hexadecimal. */
  readonly sha256: string;
  readonly bytes: number;
  /** By which it is known again under another name, as long as nobody writes to it. */
  readonly inode: number;
  readonly changedMs: number;
  /** Of a PDF file, its long data, in their order, as far as its objects were in order. */
  readonly data: readonly HashedData[];
}

/** Hashed while they are in the processor's cache still. */
const HASHED_BYTES = 2 ** 19;
/** What is not in order after so many further bytes will not come to be: nothing of it need be tried again. */
const PATIENCE_BYTES = 64 * 2 ** 20;
const MOST_SEARCHED = 2 ** 32;

/**
 * A file on disk that still grows, read back as far as it is written: its hash, and of a PDF file the hashes of its long
 * data, are there soon after its last byte. What the data are taken for is only a guess until the file is whole: whoever
 * opens it then takes the hashes of what lies at the same place with the same length.
 *
 * @source ISO 32000-2 7.5: a file's objects stand one behind the other
 */
export class ArrivingFile {
  readonly #descriptor: number;
  readonly #piece = Buffer.allocUnsafeSlow(HASHED_BYTES);
  #soFar: SoFar;

  /** @param descriptor  of the file, open for reading; it is closed with this */
  constructor(descriptor: number) {
    this.#descriptor = descriptor;
    this.#soFar = beginning(descriptor);
  }

  /**
   * Reads on to so many bytes from the file's beginning; where these are fewer than before, the rest was cut off and all is
   * read again.
   *
   * @throws {Error} of the disk, and where it has fewer
   */
  readTo(bytes: number): void {
    if (bytes < this.#soFar.there.bytes) this.#soFar = beginning(this.#descriptor);
    const { hash, there } = this.#soFar;
    this.#hashOn(hash, there.bytes, bytes);
    there.bytes = bytes;
    this.#skimOn();
  }

  /** What was read; to be asked once. */
  end(): ArrivedFile {
    const { hash, there, data } = this.#soFar;
    const { ino: inode, mtimeMs: changedMs } = fstatSync(this.#descriptor);
    return { sha256: hash.digest('hex'), bytes: there.bytes, inode, changedMs, data };
  }

  close(): void {
    closeSync(this.#descriptor);
  }

  #skimOn(): void {
    const { there, skimmer, data: hashed } = this.#soFar;
    if (this.#soFar.isLost) return;
    for (let passed = skimmer.next(); typeof passed !== 'string'; passed = skimmer.next()) {
      const { data, isStructure } = passed;
      if (data.bytes < LEAST_CUT || isStructure) continue;
      const hash = createHash('sha256');
      this.#hashOn(hash, data.at, data.at + data.bytes);
      hashed.push({ at: data.at, bytes: data.bytes, sha256: hash.digest() });
    }
    this.#soFar.isLost = there.bytes - skimmer.at > PATIENCE_BYTES;
  }

  #hashOn(hash: Hash, from: number, to: number): void {
    for (let at = from; at < to;) {
      const got = readSync(this.#descriptor, this.#piece, 0, Math.min(HASHED_BYTES, to - at), at);
      if (got === 0) throw new Error(`${to - at} bytes are not there that were said to be`);
      hash.update(this.#piece.subarray(0, got));
      at += got;
    }
  }
}

interface SoFar {
  readonly hash: Hash;
  readonly there: There;
  readonly skimmer: ObjectSkimmer;
  readonly data: HashedData[];
  /** Nothing further will be in order. */
  isLost: boolean;
}

function beginning(descriptor: number): SoFar {
  const there = new There(descriptor);
  const skimmer = new ObjectSkimmer(there, MOST_SEARCHED);
  return { hash: createHash('sha256'), there, skimmer, data: [], isLost: false };
}

/** As much of a file as is there. */
class There extends ReadInPlaces {
  bytes = 0;
  readonly #descriptor: number;

  constructor(descriptor: number) {
    super();
    this.#descriptor = descriptor;
  }

  read(at: number, length: number): Buffer {
    const wanted = Buffer.allocUnsafeSlow(Math.max(0, Math.min(length, this.bytes - at)));
    let filled = 0;
    while (filled < wanted.length) {
      const got = readSync(this.#descriptor, wanted, filled, wanted.length - filled, at + filled);
      if (got === 0) break;
      filled += got;
    }
    return wanted.subarray(0, filled);
  }
}
