import type { PDFPageProxy } from 'pdfjs-dist';

/** What is needed of a font to place its glyphs. */
export interface FontFacts {
  readonly name: string;
  /** Glyph space to text space along the baseline: 0.001 except in Type 3 fonts. */
  readonly unit: number;
  readonly ascent: number;
  readonly descent: number;
  readonly vertical: boolean;
}

/** A font as the renderer hands it over, as far as it is used. */
interface LoadedFont {
  readonly name?: string;
  readonly fontMatrix?: readonly number[];
  readonly ascent?: number;
  readonly descent?: number;
  readonly vertical?: boolean;
}

const SUBSET_TAG = /^[A-Z]{6}\+/;
const USUAL_ASCENT = 0.8;
const USUAL_DESCENT = -0.2;

/** A loaded font by the renderer's own name for it; ascent and descent are the usual ones where the font has none. */
export function fontFacts(page: PDFPageProxy, loadedName: string): FontFacts {
  const font = (page.commonObjs.has(loadedName) ? page.commonObjs.get(loadedName) : null) as LoadedFont | null;
  const [unit] = font?.fontMatrix ?? [];
  return {
    name: (font?.name ?? '').replace(SUBSET_TAG, ''),
    unit: unit === undefined || unit === 0 ? 0.001 : unit,
    ascent: within(font?.ascent, 0.1, 2, USUAL_ASCENT),
    descent: within(font?.descent, -1, 0, USUAL_DESCENT),
    vertical: font?.vertical === true,
  };
}

function within(value: number | undefined, least: number, most: number, otherwise: number): number {
  return value !== undefined && value >= least && value <= most ? value : otherwise;
}
