import type { Box, Deg, Mm, PagePoint, Ppi, Pt } from '../../src/model/index.ts';

/** A colour as the dummy prints it (sRGB, 0 to 255) and as the final prints it (process inks in percent). */
export interface Ink {
  readonly rgb: readonly [number, number, number];
  readonly cmyk: readonly [number, number, number, number];
}

/** Something done to a picture's pixels before it is placed. Boxes are fractions of the source. */
export type Treatment =
  | { readonly kind: 'grey' }
  | { readonly kind: 'inverted' }
  /** Each channel times its factor. */
  | { readonly kind: 'cast'; readonly factors: readonly [number, number, number] }
  /** Contrast around the middle; 1 leaves it. */
  | { readonly kind: 'contrast'; readonly factor: number }
  /** A spot brushed over with its own surroundings. */
  | { readonly kind: 'smoothed'; readonly box: Box }
  /** An ellipse made lighter (over 1) or darker (under 1). */
  | { readonly kind: 'dodged'; readonly box: Box; readonly factor: number }
  /** A piece of the same source pasted at another place. */
  | { readonly kind: 'pasted'; readonly box: Box; readonly from: PagePoint };

/** One placed photograph. */
export interface PictureItem {
  readonly kind: 'picture';
  /** Name in the picture library. */
  readonly source: string;
  /** What shows, as fractions of the source: 0, 0 its top left, 1, 1 its bottom right. */
  readonly crop: Box;
  /** What the file's data holds of the source, where that is not left to the preparation. */
  readonly data?: Box;
  /** Where it shows: mm from the trim's top left; may reach into the bleed. */
  readonly frame: Box;
  /** Content turned in its window, clockwise. A quarter turn's crop has the frame's sides exchanged. */
  readonly turnDeg?: Deg;
  readonly mirrored?: 'horizontal' | 'vertical';
  readonly treatments?: readonly Treatment[];
  /** Set where this picture is not at the file's resolution: the placeholder nobody exchanged. */
  readonly ppi?: Ppi;
}

/** One line of type, set already. */
export interface TextLine {
  readonly text: string;
  readonly x: Mm;
  readonly baseline: Mm;
  readonly face: string;
  readonly sizePt: Pt;
  readonly ink: Ink;
}

export type TextRole = 'title' | 'body' | 'caption' | 'running-head' | 'folio' | 'label';

export interface TextItem {
  readonly kind: 'text';
  readonly role: TextRole;
  readonly lines: readonly TextLine[];
}

export interface RuleItem {
  readonly kind: 'rule';
  readonly from: PagePoint;
  readonly to: PagePoint;
  readonly widthPt: Pt;
  readonly ink: Ink;
}

export interface TintItem {
  readonly kind: 'tint';
  readonly box: Box;
  readonly ink: Ink;
}

/** A drawn path: M, L, C and Z with absolute coordinates in mm from the trim's top left. */
export interface PathItem {
  readonly kind: 'path';
  readonly d: string;
  readonly fill?: Ink;
  readonly stroke?: Ink;
  readonly widthPt?: Pt;
  readonly dashPt?: readonly [number, number];
}

export type PageItem = PictureItem | TextItem | RuleItem | TintItem | PathItem;

/** A page; its items are drawn in their order. */
export interface PageSpec {
  /** What the page is, for people: "boats, first frame". */
  readonly name: string;
  readonly items: readonly PageItem[];
  /** Set where this page alone has another size or is turned as a whole. */
  readonly trimMm?: { readonly width: Mm; readonly height: Mm };
  readonly turned?: 90 | 180 | 270;
}

/** A book as its designer thinks of it, before any file is made of it. */
export interface BookSpec {
  readonly title: string;
  readonly author: string;
  readonly trimMm: { readonly width: Mm; readonly height: Mm };
  readonly bleedMm: Mm;
  readonly pages: readonly PageSpec[];
}

/** The trimmed size of one page. */
export function trimOf(book: BookSpec, page: PageSpec): { readonly width: Mm; readonly height: Mm } {
  return page.trimMm ?? book.trimMm;
}
