const WINDOW_BYTES = 2 ** 18;
/** So much is read at once. */
export const CHUNK_BYTES = 16 * 2 ** 20;

/** A file, or as much of it as is there, of which single places are read. */
export abstract class ReadInPlaces {
  abstract readonly bytes: number;
  #window: Buffer = Buffer.alloc(0);
  #windowAt = 0;

  /** Bytes from a place on; fewer at the end. */
  abstract read(at: number, length: number): Buffer;

  /** One byte, or -1 behind the end; those around it are read with it. */
  byte(at: number): number {
    const within = at - this.#windowAt;
    if (within >= 0 && within < this.#window.length) return this.#window[within]!;
    if (at >= this.bytes) return -1;
    this.#windowAt = at;
    this.#window = this.read(at, WINDOW_BYTES);
    return this.#window[0] ?? -1;
  }

  /** Where a text next stands from a place on, or -1. */
  find(text: string, from: number): number {
    for (let at = from; at < this.bytes; at += CHUNK_BYTES) {
      const found = this.read(at, CHUNK_BYTES + text.length).indexOf(text, 0, 'latin1');
      if (found !== -1) return at + found;
    }
    return -1;
  }

  /** Lets go of what was read. */
  protected forget(): void {
    this.#window = Buffer.alloc(0);
  }
}
