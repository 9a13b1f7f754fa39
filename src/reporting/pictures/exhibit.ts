import type { Box } from '../../model/index.ts';
import type { SizeMm } from './close-up.ts';
import type { RgbPicture } from './rgb-picture.ts';

/** A picture of the report: its name without an ending, and its pixels. */
export interface Shot {
  readonly name: string;
  readonly width: number;
  readonly height: number;
}

/** A page as it stands in the strip of the book; `shot` is null where it could not be drawn. */
export interface Leaf {
  readonly shot: Shot | null;
  readonly sizeMm: SizeMm | null;
}

/** The pictures of one finding. All of them show the same region of the page, pixel over pixel. */
export interface Exhibit {
  readonly region: Box;
  readonly dummy: Shot | null;
  readonly revision: Shot | null;
  readonly difference: Shot | null;
}

/** All pictures of a report, by what they belong to. */
export interface Exhibits {
  /** One for each entry of the report's `pages`, in the same order. */
  readonly leaves: readonly Leaf[];
  /** By the finding's id; a finding of the whole file has none. */
  readonly findings: ReadonlyMap<string, Exhibit>;
  /** One for each side of the report's sheets, in the same order; none where they were not drawn. */
  readonly sides: readonly Leaf[];
}

/** Where a picture goes once it was made; `page` is a small one for the strip, `side` a whole side of a sheet. */
export type TakePicture = (shot: Shot, picture: RgbPicture, use: 'page' | 'close-up' | 'side') => Promise<void>;
