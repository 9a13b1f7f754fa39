import { MM_PER_INCH, PT_PER_INCH, type Matrix } from '../../model/index.ts';
import { concatenate } from '../pdf/geometry/matrix.ts';
import type { Glyph } from './glyph.ts';
import type { TextState } from './text-state.ts';

/** A glyph as the renderer hands it over, as far as it is used. */
interface ShownGlyph {
  readonly unicode: string;
  readonly width: number;
  readonly isSpace: boolean;
  readonly vmetric: readonly number[] | null;
}

/**
 * Shows a string: advances the pen of `state` over glyphs and adjustments.
 *
 * @param shown  glyphs, and numbers that move the pen back by thousandths of the font size
 * @param into   where the glyphs go, or null where they cannot be seen
 * @source ISO 32000-2 9.4.3 (TJ), 9.4.4 (text space details)
 */
export function showGlyphs(shown: readonly unknown[], state: TextState, toPage: Matrix, into: Glyph[] | null): void {
  const { font, fontSize } = state;
  if (font === null) return;
  const textToPage = concatenate(state.textMatrix, concatenate(state.ctm, toPage));
  let along = 0;
  for (const item of shown) {
    if (typeof item === 'number') {
      along -= (item * fontSize) / 1000;
      continue;
    }
    if (typeof item !== 'object' || item === null) continue;
    const glyph = item as ShownGlyph;
    const spacing = state.charSpacing + (glyph.isSpace ? state.wordSpacing : 0);
    if (font.vertical && glyph.vmetric !== null) {
      const [advance = -1000, originX = 0, originY = 0] = glyph.vmetric;
      const x = state.x - originX * font.unit * fontSize;
      const y = state.y + state.rise + along - originY * font.unit * fontSize;
      into?.push(placed(glyph, state, textToPage, x, y));
      along += advance * font.unit * fontSize - spacing;
      continue;
    }
    const x = state.x + along * state.horizontalScale;
    into?.push(placed(glyph, state, textToPage, x, state.y + state.rise));
    along += glyph.width * font.unit * fontSize + spacing;
  }
  if (font.vertical) state.y += along;
  else state.x += along * state.horizontalScale;
}

function placed(glyph: ShownGlyph, state: TextState, textToPage: Matrix, x: number, y: number): Glyph {
  const { font, fontSize, horizontalScale } = state;
  const matrix = concatenate([fontSize * horizontalScale, 0, 0, fontSize, x, y], textToPage);
  return {
    text: glyph.unicode,
    matrix,
    width: glyph.width * (font?.unit ?? 0.001),
    ascent: font?.ascent ?? 0,
    descent: font?.descent ?? 0,
    sizePt: (Math.hypot(matrix[2], matrix[3]) * PT_PER_INCH) / MM_PER_INCH,
    font: font?.name ?? '',
  };
}
