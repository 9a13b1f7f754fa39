import { IDENTITY } from '../pdf/geometry/matrix.ts';
import type { Matrix } from '../../model/index.ts';
import type { FontFacts } from './font-facts.ts';

/** The part of the graphics state that places text. @source ISO 32000-2 9.3 table 102, 9.4 */
export interface TextState {
  ctm: Matrix;
  font: FontFacts | null;
  fontSize: number;
  charSpacing: number;
  wordSpacing: number;
  horizontalScale: number;
  rise: number;
  leading: number;
  renderingMode: number;
  textMatrix: Matrix;
  /** Pen and start of the line, in the space of the text matrix. */
  x: number;
  y: number;
  lineX: number;
  lineY: number;
}

/** The state at the start of a page. */
export function initialTextState(): TextState {
  return {
    ctm: IDENTITY,
    font: null,
    fontSize: 0,
    charSpacing: 0,
    wordSpacing: 0,
    horizontalScale: 1,
    rise: 0,
    leading: 0,
    renderingMode: 0,
    textMatrix: IDENTITY,
    x: 0,
    y: 0,
    lineX: 0,
    lineY: 0,
  };
}

/** Moves to the start of a line. */
export function moveText(state: TextState, x: number, y: number): void {
  state.x = state.lineX += x;
  state.y = state.lineY += y;
}
