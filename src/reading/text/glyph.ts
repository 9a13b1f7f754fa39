import type { Matrix } from '../../model/index.ts';

/** One glyph as the page shows it. */
export interface Glyph {
  /** What it stands for; may be several characters (a ligature) or none. */
  readonly text: string;
  /** From the glyph's own space to page mm: unit 1 is the font size, the baseline runs along x, y up from it. */
  readonly matrix: Matrix;
  /** Advance along the baseline without any spacing, in the glyph's own space. */
  readonly width: number;
  /** Of the font, in the glyph's own space; descent is negative. */
  readonly ascent: number;
  readonly descent: number;
  /** Size through the whole transformation. */
  readonly sizePt: number;
  /** PostScript name without a subset tag. */
  readonly font: string;
}
