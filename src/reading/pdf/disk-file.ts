import { createHash } from 'node:crypto';
import { closeSync, fstatSync, openSync, readSync } from 'node:fs';
import { basename } from 'node:path';
import { Refusal } from '../../model/index.ts';
import { CHUNK_BYTES, ReadInPlaces } from './read-in-places.ts';

/** Hashed while they are in the processor's cache still. */
const HASHED_BYTES = 2 ** 19;

/** A file on disk of which single places are read. It must not change while it is open; where it does, reading is refused. */
export class DiskFile extends ReadInPlaces {
  readonly bytes: number;
  readonly #name: string;
  readonly #changedMs: number;
  #descriptor: number | null;

  /** @throws {Error} of the disk: no such file, a folder */
  constructor(path: string) {
    super();
    this.#name = basename(path);
    this.#descriptor = openSync(path, 'r');
    const { size, mtimeMs } = fstatSync(this.#descriptor);
    this.bytes = size;
    this.#changedMs = mtimeMs;
  }

  /**
   * Bytes from a place on; fewer at the end of the file.
   *
   * @throws {Refusal} not-found: the file was closed; unreadable: it was changed, or the disk refused
   */
  read(at: number, length: number): Buffer {
    const wanted = Buffer.allocUnsafeSlow(Math.max(0, Math.min(length, this.bytes - at)));
    this.#fill(wanted, at);
    return wanted;
  }

  #fill(wanted: Buffer, at: number): void {
    if (this.#descriptor === null) throw new Refusal('not-found', { what: `${this.#name}, which was closed` });
    const { size, mtimeMs } = fstatSync(this.#descriptor);
    if (size !== this.bytes || mtimeMs !== this.#changedMs) {
      throw new Refusal('unreadable', { file: this.#name, reason: 'the file was changed while it was read' });
    }
    let filled = 0;
    while (filled < wanted.length) {
      const more = Math.min(CHUNK_BYTES, wanted.length - filled);
      const got = readSync(this.#descriptor, wanted, filled, more, at + filled);
      if (got === 0) throw new Refusal('unreadable', { file: this.#name, reason: 'the file shrank while it was read' });
      filled += got;
    }
  }

  /**
   * SHA-256 of some bytes, which are not kept.
   *
   * @throws {Refusal} not-found: the file was closed; unreadable: it was changed, or the disk refused
   */
  sha256(from = 0, length = this.bytes): Buffer {
    const hash = createHash('sha256');
    const piece = Buffer.allocUnsafeSlow(Math.min(HASHED_BYTES, length));
    const end = Math.min(from + length, this.bytes);
    for (let at = from; at < end; at += piece.length) {
      const part = piece.subarray(0, Math.min(piece.length, end - at));
      this.#fill(part, at);
      hash.update(part);
    }
    return hash.digest();
  }

  close(): void {
    if (this.#descriptor !== null) closeSync(this.#descriptor);
    this.#descriptor = null;
    this.forget();
  }
}
