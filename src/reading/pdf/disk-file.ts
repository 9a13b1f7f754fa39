import { createHash } from 'node:crypto';
import { closeSync, fstatSync, openSync, readSync } from 'node:fs';
import { basename } from 'node:path';
import { Refusal } from '../../model/index.ts';

const WINDOW_BYTES = 2 ** 18;
const CHUNK_BYTES = 16 * 2 ** 20;
/** Hashed while they are in the processor's cache still. */
const HASHED_BYTES = 2 ** 19;

/** A file on disk of which single places are read. It must not change while it is open; where it does, reading is refused. */
export class DiskFile {
  readonly bytes: number;
  readonly #name: string;
  readonly #changedMs: number;
  #descriptor: number | null;
  #window: Buffer = Buffer.alloc(0);
  #windowAt = 0;

  /** @throws {Error} of the disk: no such file, a folder */
  constructor(path: string) {
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

  /** One byte, or -1 behind the end; those around it are read with it. */
  byte(at: number): number {
    const within = at - this.#windowAt;
    if (within >= 0 && within < this.#window.length) return this.#window[within]!;
    if (at >= this.bytes) return -1;
    this.#windowAt = at;
    this.#window = this.read(at, WINDOW_BYTES);
    return this.#window[0]!;
  }

  /** Where a text next stands from a place on, or -1. */
  find(text: string, from: number): number {
    for (let at = from; at < this.bytes; at += CHUNK_BYTES) {
      const found = this.read(at, CHUNK_BYTES + text.length).indexOf(text, 0, 'latin1');
      if (found !== -1) return at + found;
    }
    return -1;
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
    this.#window = Buffer.alloc(0);
  }
}
