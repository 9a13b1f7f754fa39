/** What a file may ask of the machine before it is refused; every one can be set by the operator. */
export interface Limits {
  /** Bytes of a file. */
  readonly fileBytes: number;
  readonly pages: number;
  /** Side of a page as trimmed. */
  readonly pageMm: number;
  /** Pixels that one picture may declare. */
  readonly picturePixels: number;
  /** Pixels of one plate: a sheet of 1600 x 1200 mm at 2540 an inch has 19 thousand million. */
  readonly platePixels: number;
  /** Plates in one file, and bytes that all of them may unfold to. */
  readonly plates: number;
  readonly platesBytes: number;
  /** Bytes that one stream may unfold to. */
  readonly streamBytes: number;
  /** Forms inside forms. */
  readonly nesting: number;
  /** Operators on one page, forms counted each time they are drawn. */
  readonly operators: number;
  /** Time for one page, reading or drawing. */
  readonly pageMs: number;
  /** Memory of one worker. */
  readonly workerMb: number;
}

export const DEFAULT_LIMITS: Limits = {
  fileBytes: 4 * 2 ** 30,
  pages: 5000,
  pageMm: 2000,
  picturePixels: 500e6,
  platePixels: 25e9,
  plates: 5000,
  platesBytes: 256 * 2 ** 30,
  streamBytes: 2 ** 30,
  nesting: 40,
  operators: 5e6,
  pageMs: 60_000,
  workerMb: 3000,
};
