interface Recent {
  readonly value: unknown;
  readonly bytes: number;
}

/** As much as is kept of some 1300 pages. */
const MOST_BYTES = 16 * 2 ** 20;

/**
 * Facts that were read lately, by where they are kept, so that a process that checks one file after another need not read
 * those of the same dummy from hundreds of small files each time. Whoever reads them shares them, and changes nothing.
 */
export class RecentFacts {
  readonly #byPath = new Map<string, Recent>();
  readonly #mostBytes: number;
  #bytes = 0;

  /** @param mostBytes  of all facts together, as they lie on disk; those that nobody asked for longest go */
  constructor(mostBytes = MOST_BYTES) {
    this.#mostBytes = mostBytes;
  }

  /** Undefined where it was not read lately. */
  get(path: string): unknown {
    const recent = this.#byPath.get(path);
    if (recent === undefined) return undefined;
    this.#byPath.delete(path);
    this.#byPath.set(path, recent);
    return recent.value;
  }

  add(path: string, value: unknown, bytes: number): void {
    this.forget(path);
    this.#byPath.set(path, { value, bytes });
    this.#bytes += bytes;
    for (const eldest of this.#byPath.keys()) {
      if (this.#bytes <= this.#mostBytes) return;
      this.forget(eldest);
    }
  }

  forget(path: string): void {
    this.#bytes -= this.#byPath.get(path)?.bytes ?? 0;
    this.#byPath.delete(path);
  }
}
