/** Pixels ready to be enlarged: RGB, 3 bytes a pixel, row by row. */
export interface SourceImage {
  readonly width: number;
  readonly height: number;
  readonly rgb: Buffer;
}

/** Where a book's pictures come from. */
export interface PictureLibrary {
  /** Part of the names of kept files; to be counted up when the library makes its pictures differently. */
  readonly edition: string;
  /** The longer side that its pictures are enlarged to for print. */
  readonly printPx: number;
  /**
   * A picture in the size it came in.
   *
   * @throws {Error} a name the library does not have
   */
  picture(name: string): Promise<SourceImage>;
}

/** Where a book's pictures come from and where prepared data may be kept. */
export interface Workshop {
  readonly library: PictureLibrary;
  readonly keptFolder: string;
}

/** Deterministic numbers from 0 up to 1. @source a linear congruential generator with common constants, from memory */
export function numbersFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}
