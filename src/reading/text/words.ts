import type { PDFPageProxy } from 'pdfjs-dist';
import { intersectBoxes, type Box, type Matrix, type Word } from '../../model/index.ts';
import { transformPoint } from '../pdf/geometry/matrix.ts';
import { turnOf, type Laid } from './baseline.ts';
import { combiningAccent, plainWord } from './characters.ts';
import type { LayerVisibility } from './layer-visibility.ts';
import type { OperatorList } from './operator-list.ts';
import { pageGlyphs } from './page-glyphs.ts';
import { inReadingOrder } from './reading-order.ts';
import { splitWords } from './split-words.ts';

/** What is needed to read the words of a page that is being drawn. */
export interface WordSource {
  readonly page: PDFPageProxy;
  readonly operators: OperatorList;
  /** Names of the renderer's operators by their number. */
  readonly names: Readonly<Record<number, string>>;
  readonly layers: LayerVisibility;
  /** From the page's own space to page mm. */
  readonly toPage: Matrix;
  /** Words that lie wholly outside are left out: they are cut off. */
  readonly trim: Box;
}

/** The visible words within the trim, in reading order. */
export function pageWords({ page, operators, names, layers, toPage, trim }: WordSource): readonly Word[] {
  const words = splitWords(pageGlyphs(page, operators, names, layers, toPage)).flatMap((laid) => {
    const word = wordOf(laid);
    return word !== null && intersectBoxes(word.box, trim) !== null ? [word] : [];
  });
  return inReadingOrder(words);
}

const xOf = ({ x }: { readonly x: number }): number => x;
const yOf = ({ y }: { readonly y: number }): number => y;

function cornersOf({ glyph: { matrix, width, ascent, descent } }: Laid) {
  return [
    transformPoint(matrix, 0, ascent),
    transformPoint(matrix, 0, descent),
    transformPoint(matrix, width, ascent),
    transformPoint(matrix, width, descent),
  ];
}

function wordOf(laid: readonly Laid[]): Word | null {
  const [first] = laid;
  const text = plainWord(joined(laid));
  if (first === undefined || text === '') return null;
  const { matrix, sizePt, font } = first.glyph;
  const corners = laid.flatMap(cornersOf);
  const [across, down] = [corners.map(xOf), corners.map(yOf)];
  const [left, top] = [Math.min(...across), Math.min(...down)];
  return {
    text,
    box: {
      x: left,
      y: top,
      width: Math.max(...across) - left,
      height: Math.max(...down) - top,
    },
    origin: { x: matrix[4], y: matrix[5] },
    turnDeg: turnOf(first.direction),
    sizePt: Math.round(sizePt * 100) / 100,
    font,
  };
}

/** The text of a word; an accent set over the letter before or after it is joined to it. */
function joined(laid: readonly Laid[]): string {
  let text = '';
  let pending = '';
  laid.forEach((at, index) => {
    const accent = combiningAccent(at.glyph.text);
    const [before, after] = [laid[index - 1], laid[index + 1]];
    if (accent !== null && after !== undefined && overlaps(at, after)) {
      pending += accent;
    } else if (accent !== null && before !== undefined && overlaps(at, before)) {
      text += accent;
    } else {
      text += at.glyph.text + pending;
      pending = '';
    }
  });
  return text + pending;
}

/** Whether an accent lies over most of its own width within the other glyph. */
function overlaps(accent: Laid, other: Laid): boolean {
  const shared = Math.min(accent.end, other.end) - Math.max(accent.start, other.start);
  return shared > 0.5 * Math.min(accent.end - accent.start, other.end - other.start);
}
