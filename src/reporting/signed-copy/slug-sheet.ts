import type { Pt } from '../../model/index.ts';
import { breakLines, drawLines, LEADING, measure } from '../pdf/type-setting.ts';
import type { SetLine, Setter, Style } from '../pdf/type-setting.ts';
import { BLACK, drawCode } from './code-mark.ts';
import type { SlugPlace } from './slug-place.ts';
import type { SlugWords } from './slug-words.ts';

const CODE_PT: Pt = 45;
/** From the rule to the type and the code. */
const HEAD_PT: Pt = 8;
const GUTTER_PT: Pt = 12;
/** The middle column is as wide as what it says, but no wider than this share, within which a hash is never broken. */
const MIDDLE = { share: 0.32, leastPt: 76 };
/** Of what is left, the first column takes this share and the third the rest. */
const FIRST_SHARE = 0.46;
/** Type is set in the first size in which all columns are as high as the code at most. */
const SIZES: readonly Pt[] = [6.5, 6, 5.5];
/** Draws one slug on the sheet that is open, which has the slug's own size. */
export function drawSlug(setter: Setter, place: SlugPlace, words: SlugWords): void {
  const { document } = setter;
  document.lineWidth(0.25).strokeColor(BLACK).moveTo(place.fromPt, 0.125).lineTo(place.toPt, 0.125).stroke();
  drawCode(document, words.code, place.toPt - CODE_PT, HEAD_PT, CODE_PT);
  const widths = columnWidths(setter, words, place.toPt - place.fromPt - CODE_PT);
  const columns = setColumns(setter, words, widths);
  let x = place.fromPt;
  columns.forEach((lines, column) => {
    let y = HEAD_PT;
    // Capitals stand level with the code's upper edge.
    for (const { line, style } of lines) y += drawLines(setter, [line], style, { x, y: y - style.sizePt * 0.3 });
    x += (widths[column] ?? 0) + GUTTER_PT;
  });
}

function columnWidths(setter: Setter, { columns }: SlugWords, room: Pt): readonly Pt[] {
  const free = room - 4 * GUTTER_PT;
  const wanted = Math.max(...columns[1].map((text) => measure(setter, text, styleOf(1, 0, SIZES[0] ?? 0)))) + 1;
  const middle = Math.min(wanted, Math.max(free * MIDDLE.share, MIDDLE.leastPt));
  const first = (free - middle) * FIRST_SHARE;
  return [first, middle, free - middle - first];
}

interface StyledLine {
  readonly line: SetLine;
  readonly style: Style;
}

/** All columns in one size of type; what is too much even for the smallest ends in an ellipsis. */
function setColumns(setter: Setter, { columns }: SlugWords, widths: readonly Pt[]): readonly StyledLine[][] {
  const least = SIZES.at(-1) ?? 0;
  for (const sizePt of SIZES) {
    const most = Math.floor((CODE_PT + 4) / (sizePt * LEADING));
    const set = columns.map((paragraphs, column) =>
      paragraphs.map((text, place) => {
        const style = styleOf(column, place, sizePt);
        return { text, style, lines: breakLines(setter, text, style, widths[column] ?? 0) };
      }),
    );
    const fits = set.every((paragraphs) => lineCount(paragraphs) <= most);
    if (!fits && sizePt > least) continue;
    return set.map((paragraphs, column) =>
      shortened(setter, paragraphs, most, widths[column] ?? 0).flatMap(({ lines, style }) =>
        lines.map((line) => ({ line, style })),
      ),
    );
  }
  return [];
}

interface Paragraph {
  readonly lines: readonly SetLine[];
  readonly style: Style;
}

/** Takes lines from the longest paragraph until all fit, so that none is lost whole: not the page's number, not a name. */
function shortened(setter: Setter, paragraphs: readonly Paragraph[], most: number, widthPt: Pt): readonly Paragraph[] {
  const counts = paragraphs.map(({ lines }) => lines.length);
  for (let all = lineCount(paragraphs); all > most && Math.max(...counts) > 1; all -= 1) {
    counts[counts.indexOf(Math.max(...counts))]! -= 1;
  }
  return paragraphs.map(({ lines, style }, place) => {
    const count = counts[place] ?? 0;
    if (count === lines.length) return { lines, style };
    let text = (lines[count - 1]?.runs ?? []).map((run) => run.text).join('');
    while (text !== '' && measure(setter, `${text}…`, style) > widthPt) text = [...text].slice(0, -1).join('');
    return {
      lines: [...lines.slice(0, count - 1), ...breakLines(setter, `${text.trimEnd()}…`, style, Infinity)],
      style,
    };
  });
}

function lineCount(paragraphs: readonly Paragraph[]): number {
  return paragraphs.reduce((sum, { lines }) => sum + lines.length, 0);
}

function styleOf(column: number, place: number, sizePt: Pt): Style {
  return { face: column === 0 && place === 0 ? 'strong' : 'text', sizePt, colour: BLACK };
}
