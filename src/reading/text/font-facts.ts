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

const SUBSET_TAG = /^[A-Z]{6}\+/;
const USUAL_ASCENT = 0.8;
const USUAL_DESCENT = -0.2;

/** A loaded font by the renderer's own name for it; ascent and descent are the usual ones where the font has none. */
export function fontFacts(page: PDFPageProxy, loadedName: string): FontFacts {
  const font = page.commonObjs.get(loadedName) as Readonly<Record<string, unknown>> | null;
  const matrix = font?.['fontMatrix'];
  const unit: unknown = Array.isArray(matrix) ? matrix[0] : 0.001;
  const ascent = within(font?.['ascent'], 0.1, 2, USUAL_ASCENT);
  const descent = within(font?.['descent'], -1, 0, USUAL_DESCENT);
  return {
    name: String(font?.['name'] ?? '').replace(SUBSET_TAG, ''),
    unit: typeof unit === 'number' && unit !== 0 ? unit : 0.001,
    ascent,
    descent,
    vertical: font?.['vertical'] === true,
  };
}

function within(value: unknown, least: number, most: number, otherwise: number): number {
  return typeof value === 'number' && value >= least && value <= most ? value : otherwise;
}
