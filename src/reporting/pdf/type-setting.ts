import type { Face, PdfFonts, Run } from './pdf-fonts.ts';

/** How text is set: face, size in points, colour (sRGB as `#rrggbb`, or inks CMYK in percent), space between letters in points. */
export interface Style {
  readonly face: Face;
  readonly sizePt: number;
  readonly colour: string | [number, number, number, number];
  readonly tracking?: number;
}

/** What type is set with. */
export interface Setter {
  readonly document: PDFKit.PDFDocument;
  readonly fonts: PdfFonts;
}

/** One line, ready to be drawn; width in points. */
export interface SetLine {
  readonly runs: readonly Run[];
  readonly width: number;
}

/** Height of a line over the size of its type. */
export const LEADING = 1.36;

/** Breaks text into lines of at most `widthPt`; a word that is wider than a line is broken within. */
export function breakLines(setter: Setter, text: string, style: Style, widthPt: number): readonly SetLine[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/ +/).flatMap((whole) => pieces(setter, whole, style, widthPt))) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && measure(setter, longer, style) > widthPt) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  lines.push(line);
  return lines.map((set) => ({ runs: setter.fonts.runsOf(set, style.face), width: measure(setter, set, style) }));
}

/** Width of a text on one line, in points. */
export function measure(setter: Setter, text: string, style: Style): number {
  return setter.fonts.runsOf(text, style.face).reduce((sum, run) => sum + runWidth(setter, run, style), 0);
}

/** Draws lines one under the other from the top left corner `at`; gives the height used, in points. */
export function drawLines(
  setter: Setter,
  lines: readonly SetLine[],
  style: Style,
  at: {
    readonly x: number;
    readonly y: number;
    readonly align?: 'left' | 'right' | 'centre';
    readonly widthPt?: number;
  },
): number {
  const { document } = setter;
  const step = style.sizePt * LEADING;
  lines.forEach((line, index) => {
    const spare = (at.widthPt ?? line.width) - line.width;
    let x = at.x + (at.align === 'right' ? spare : at.align === 'centre' ? spare / 2 : 0);
    for (const [place, run] of line.runs.entries()) {
      const y = at.y + index * step + style.sizePt * 1.02;
      // Unseen, but whoever has the text read out or copies it gets words and not one long one.
      const text = place === line.runs.length - 1 ? `${run.text} ` : run.text;
      document.font(run.font).fontSize(style.sizePt).fillColor(style.colour);
      document.text(text, x, y, {
        lineBreak: false,
        baseline: 'alphabetic',
        characterSpacing: style.tracking ?? 0,
      });
      x += runWidth(setter, run, style);
    }
  });
  return lines.length * step;
}

function runWidth({ document }: Setter, run: Run, style: Style): number {
  document.font(run.font).fontSize(style.sizePt);
  return document.widthOfString(run.text, { characterSpacing: style.tracking ?? 0 });
}

function pieces(setter: Setter, word: string, style: Style, widthPt: number): readonly string[] {
  if (measure(setter, word, style) <= widthPt) return [word];
  const parts: string[] = [];
  let part = '';
  for (const letter of word) {
    if (part !== '' && measure(setter, part + letter, style) > widthPt) {
      parts.push(part);
      part = letter;
    } else part += letter;
  }
  return [...parts, part];
}
