import PDFDocument from 'pdfkit';
import { PALETTE } from '../palette.ts';
import { registerFonts } from './pdf-fonts.ts';
import { breakLines, drawLines, LEADING } from './type-setting.ts';
import type { Setter, Style } from './type-setting.ts';

/** A4 in points. @source ISO 216 (210 x 297 mm) */
const SHEET = { width: 595.28, height: 841.89 };
export const MARGIN = { left: 54, right: 54, top: 62, foot: 58 };
export const MEASURE = SHEET.width - MARGIN.left - MARGIN.right;

const INK = PALETTE.light;
export const COLOUR = { ink: INK.ink, faded: INK.faded, hairline: INK.hairline, signal: INK.signal, leaf: '#ffffff' };

/** The report's few styles. */
export const STYLE = {
  title: { face: 'text', sizePt: 24, colour: COLOUR.ink },
  subtitle: { face: 'text', sizePt: 13, colour: COLOUR.ink },
  verdict: { face: 'text', sizePt: 13.5, colour: COLOUR.ink },
  section: { face: 'text', sizePt: 17, colour: COLOUR.ink },
  heading: { face: 'text', sizePt: 13, colour: COLOUR.ink },
  place: { face: 'italic', sizePt: 13, colour: COLOUR.faded },
  text: { face: 'text', sizePt: 10, colour: COLOUR.ink },
  quiet: { face: 'text', sizePt: 9, colour: COLOUR.faded },
  strong: { face: 'strong', sizePt: 9.5, colour: COLOUR.ink },
  term: { face: 'text', sizePt: 7, colour: COLOUR.faded, tracking: 0.6 },
} as const satisfies Record<string, Style>;

/** A report on paper while it is being made: the document, where the next thing goes, and what it belongs to. */
export interface Paper extends Setter {
  /** Top of what comes next, in points from the head of the sheet. */
  y: number;
  /** The structure element that what is drawn becomes part of, for readers that cannot see. */
  part: PDFKit.PDFStructureElement;
}

/** Opens a document: tagged, in English, with an outline, and of fixed bytes for fixed contents. */
export function openPaper(title: string, madeAt: Date): Paper {
  const document = new PDFDocument({
    size: [SHEET.width, SHEET.height],
    margin: 0,
    bufferPages: true,
    pdfVersion: '1.7',
    lang: 'en',
    tagged: true,
    displayTitle: true,
    info: { Title: title, Creator: 'Witness Leaf', Producer: 'Witness Leaf', CreationDate: madeAt },
  });
  const part = document.struct('Document');
  document.addStructure(part);
  return { document, fonts: registerFonts(document), y: MARGIN.top, part };
}

/** Starts a new sheet. */
export function turnSheet(paper: Paper): void {
  paper.document.addPage();
  paper.y = MARGIN.top;
}

/** Starts a new sheet where less than `heightPt` is left on this one. */
export function requireRoom(paper: Paper, heightPt: number): void {
  if (paper.y + heightPt > SHEET.height - MARGIN.foot && paper.y > MARGIN.top) turnSheet(paper);
}

/** Draws something as an element of the document's structure: a heading (`H1`), a paragraph (`P`), a `Figure`. */
export function tagged(
  paper: Paper,
  type: string,
  draw: () => void,
  options: { readonly alt?: string; readonly title?: string } = {},
): void {
  const content = paper.document.markStructureContent(type);
  draw();
  paper.document.endMarkedContent();
  paper.part.add(paper.document.struct(type, options, [content]));
}

/** Draws something that a reader who cannot see need not hear of: a rule, a folio. */
export function ornament(paper: Paper, draw: () => void): void {
  paper.document.markContent('Artifact', { type: 'Layout' });
  draw();
  paper.document.endMarkedContent();
}

/** Everything drawn by `draw` becomes part of one element, such as a `Sect` or a `Table`. */
export function within(paper: Paper, type: string, draw: () => void): void {
  const outer = paper.part;
  const inner = paper.document.struct(type);
  outer.add(inner);
  paper.part = inner;
  draw();
  inner.end();
  paper.part = outer;
}

/** Sets a paragraph at the left edge of `box` from `paper.y` on, and moves on below it. It is not parted over sheets. */
export function setParagraph(
  paper: Paper,
  text: string,
  style: Style,
  { x = MARGIN.left, widthPt = MEASURE, type = 'P', after = 0 } = {},
): void {
  const lines = breakLines(paper, text, style, widthPt);
  requireRoom(paper, lines.length * style.sizePt * LEADING);
  const { y } = paper;
  tagged(paper, type, () => {
    drawLines(paper, lines, style, { x, y });
  });
  paper.y = y + lines.length * style.sizePt * LEADING + after;
}

/** Opens a section: its rule stands out to the left of the block, as an untrimmed leaf does; the outline names it. */
export function openSection(paper: Paper, title: string): PDFKit.PDFOutline {
  const { document } = paper;
  const { y } = paper;
  ornament(paper, () => {
    document.lineWidth(0.6).strokeColor(COLOUR.ink);
    document
      .moveTo(MARGIN.left, y)
      .lineTo(MARGIN.left + MEASURE, y)
      .stroke();
    document.rect(MARGIN.left - 24, y - 1, 72, 2).fill(COLOUR.signal);
  });
  paper.y += 10;
  const entry = document.outline.addItem(title);
  setParagraph(paper, title, STYLE.section, { type: 'H2', after: 10 });
  return entry;
}

/** Numbers the sheets, names the report on each, and gives the finished file. */
export async function closePaper(paper: Paper, running: string): Promise<Uint8Array> {
  const { document } = paper;
  const chunks: Uint8Array[] = [];
  const whole = new Promise<Uint8Array>((resolve, reject) => {
    document.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    document.on('end', () => resolve(Buffer.concat(chunks)));
    document.on('error', reject);
  });
  const { count } = document.bufferedPageRange();
  for (let index = 0; index < count; index += 1) {
    document.switchToPage(index);
    const y = SHEET.height - 36;
    document.markContent('Artifact', { type: 'Pagination' });
    const [name] = breakLines(paper, running, STYLE.quiet, MEASURE - 80);
    if (name !== undefined) drawLines(paper, [name], STYLE.quiet, { x: MARGIN.left, y });
    const folio = breakLines(paper, `${index + 1} of ${count}`, STYLE.quiet, 80);
    drawLines(paper, folio, STYLE.quiet, { x: MARGIN.left, y, align: 'right', widthPt: MEASURE });
    document.endMarkedContent();
  }
  paper.part.end();
  document.end();
  return whole;
}
