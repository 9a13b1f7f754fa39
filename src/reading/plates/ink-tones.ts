/** Ink over a plate, 0 none to 255 full, a byte a pixel, row by row from the top left. */
export interface InkTones {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

/** A part of a plate, in its pixels. */
export interface Square {
  readonly left: number;
  readonly top: number;
  readonly side: number;
}

/** A square of a plate at its own resolution, 255 where there is ink. */
export type PlateSquare = InkTones;
