import { fillFrame } from '../../../demo/book/fill-frame.ts';
import { BLACK, DEEP_BLACK, GREY, MOSS, OCHRE, RUST, SAND, WATER } from '../../../demo/book/ink.ts';
import { numbersFrom } from '../../../demo/book/library.ts';
import type { BookSpec, PageItem, PageSpec, TextItem } from '../../../demo/book/spec.ts';
import { setLine, setParagraphs } from '../../../demo/book/typeset.ts';
import type { Box } from '../../../src/model/index.ts';
import { INVENTED_ASPECT } from './invented-pictures.ts';
import { inventName, inventParagraph, inventSentence } from './invented-words.ts';

/** What a generated book is made after. */
export interface Brief {
  readonly title: string;
  readonly seed: number;
  readonly trimMm: { readonly width: number; readonly height: number };
  readonly bleedMm: number;
  /** Faces of headings and text. */
  readonly faces: { readonly heading: string; readonly text: string; readonly caption: string };
  /** Which sorts of scenes its pictures are taken from, one after the other. */
  readonly sorts: readonly string[];
  readonly pages: readonly Layout[];
}

export type Layout =
  'full' | 'framed' | 'pair' | 'four' | 'aside' | 'text' | 'drawing' | 'blank' | 'black' | 'grey-and-colour';

interface Desk {
  readonly brief: Brief;
  readonly next: () => number;
  readonly pageNumber: number;
  picture(frame: Box, print?: string): PageItem;
}

/** A photo book with another layout for every seed: boxes, crops, words and rules all come from it. */
export function generateBook(brief: Brief): BookSpec {
  const next = numbersFrom(brief.seed);
  let taken = 0;
  // Every sort twice, then again from the first: a book shows some of its pictures a second time.
  const repeatAfter = 2 * brief.sorts.length;
  const pages = brief.pages.map((layout, index): PageSpec => {
    const desk: Desk = {
      brief,
      next,
      pageNumber: index + 1,
      picture(frame, print) {
        const sort = brief.sorts[taken % brief.sorts.length]!;
        const source = [sort, String(brief.seed + Math.floor((taken % repeatAfter) / brief.sorts.length)), print]
          .filter(Boolean)
          .join(' ');
        taken += 1;
        const middle = { x: 0.45 + 0.1 * next(), y: 0.45 + 0.1 * next() };
        return fillFrame(source, frame, middle, 0.62 + 0.22 * next(), INVENTED_ASPECT);
      },
    };
    return { name: `${index + 1}: ${layout}`, items: LAYOUTS[layout](desk) };
  });
  return { title: brief.title, author: 'Nobody', trimMm: brief.trimMm, bleedMm: brief.bleedMm, pages };
}

const LAYOUTS: Readonly<Record<Layout, (desk: Desk) => readonly PageItem[]>> = {
  full: (desk) => [desk.picture(bleedBox(desk.brief))],
  framed(desk) {
    const frame = inset(desk, 0.1 + 0.08 * desk.next(), 0.1 + 0.14 * desk.next());
    return [desk.picture(frame), caption(desk, frame), ...foot(desk)];
  },
  pair(desk) {
    const whole = inset(desk, 0.09, 0.16);
    const cut = whole.height * (0.42 + 0.16 * desk.next());
    const upper = { ...whole, height: cut - 4 };
    const lower = { ...whole, y: whole.y + cut + 4, height: whole.height - cut - 4, width: whole.width * 0.8 };
    return [desk.picture(upper), desk.picture(lower), caption(desk, lower), ...foot(desk)];
  },
  four(desk) {
    const whole = inset(desk, 0.08, 0.12);
    const [width, height] = [(whole.width - 5) / 2, (whole.height - 5) / 2];
    const frames = [0, 1, 2, 3].map((n) => ({
      x: whole.x + (n % 2) * (width + 5),
      y: whole.y + Math.floor(n / 2) * (height + 5),
      width,
      height,
    }));
    return [...frames.map((frame) => desk.picture(frame)), ...foot(desk)];
  },
  aside(desk) {
    const whole = inset(desk, 0.09, 0.12);
    const frame = { ...whole, width: whole.width * 0.58 };
    const column = { ...whole, x: whole.x + whole.width * 0.62, width: whole.width * 0.38 };
    return [desk.picture(frame), body(desk, column, 3), ...foot(desk)];
  },
  text(desk) {
    const whole = inset(desk, 0.12, 0.12);
    const heading = { face: desk.brief.faces.heading, sizePt: 26, leadingPt: 30, ink: BLACK };
    const column = { ...whole, y: whole.y + 26, height: whole.height - 26, width: whole.width * 0.75 };
    return [
      {
        kind: 'text',
        role: 'title',
        lines: [setLine(inventName(desk.next), { x: whole.x, baseline: whole.y + 10 }, heading)],
      },
      {
        kind: 'rule',
        from: { x: whole.x, y: whole.y + 17 },
        to: { x: whole.x + 30, y: whole.y + 17 },
        widthPt: 1,
        ink: OCHRE,
      },
      body(desk, column, 8),
      ...foot(desk),
    ];
  },
  drawing: (desk) => [...drawing(desk, inset(desk, 0.12, 0.16)), ...foot(desk)],
  blank: () => [],
  black: (desk) => [{ kind: 'tint', box: bleedBox(desk.brief), ink: DEEP_BLACK }],
  'grey-and-colour'(desk) {
    const whole = inset(desk, 0.08, 0.22);
    const left = { ...whole, width: whole.width / 2 - 3 };
    const right = { ...left, x: whole.x + whole.width / 2 + 3 };
    return [desk.picture(left, 'grey'), desk.picture(right), caption(desk, right), ...foot(desk)];
  },
};

function bleedBox({ trimMm, bleedMm }: Brief): Box {
  return { x: 0 - bleedMm, y: 0 - bleedMm, width: trimMm.width + 2 * bleedMm, height: trimMm.height + 2 * bleedMm };
}

function inset({ brief: { trimMm } }: Desk, across: number, down: number): Box {
  const [x, y] = [trimMm.width * across, trimMm.height * down];
  return { x, y, width: trimMm.width - 2 * x, height: trimMm.height - 2 * y - 6 };
}

function body(desk: Desk, box: Box, sentences: number): TextItem {
  const setting = { face: desk.brief.faces.text, sizePt: 9.5, leadingPt: 14, ink: BLACK, indentMm: 4 };
  const paragraphs = [inventParagraph(desk.next, sentences), inventParagraph(desk.next, Math.ceil(sentences / 2))];
  return { kind: 'text', role: 'body', lines: setParagraphs(paragraphs, { ...box, height: box.height + 40 }, setting) };
}

function caption(desk: Desk, frame: Box): TextItem {
  const setting = { face: desk.brief.faces.caption, sizePt: 8, leadingPt: 11, ink: GREY };
  const box = { x: frame.x, y: frame.y + frame.height + 2, width: frame.width, height: 30 };
  return { kind: 'text', role: 'caption', lines: setParagraphs([inventSentence(desk.next)], box, setting) };
}

function foot({ brief, pageNumber }: Desk): readonly TextItem[] {
  const align = pageNumber % 2 === 1 ? 'right' : 'left';
  const x = pageNumber % 2 === 1 ? brief.trimMm.width - 14 : 14;
  const setting = { face: brief.faces.text, sizePt: 8.5, leadingPt: 12, ink: BLACK, align } as const;
  return [
    {
      kind: 'text',
      role: 'folio',
      lines: [setLine(String(pageNumber + 40), { x, baseline: brief.trimMm.height - 9 }, setting)],
    },
  ];
}

/** Rules, tints, bars and a line that wanders: a diagram of nothing. */
function drawing({ brief, next }: Desk, box: Box): readonly PageItem[] {
  const label = { face: brief.faces.caption, sizePt: 8, leadingPt: 11, ink: BLACK };
  const bars = Array.from({ length: 6 }, (_, index): PageItem => {
    const height = box.height * (0.2 + 0.6 * next());
    const width = box.width / 9;
    return {
      kind: 'tint',
      box: { x: box.x + index * width * 1.5, y: box.y + box.height - height, width, height },
      ink: [SAND, MOSS, WATER][index % 3]!,
    };
  });
  const steps = Array.from({ length: 7 }, (_, index) => {
    const [x, y] = [box.x + (index * box.width) / 6, box.y + box.height * (0.1 + 0.5 * next())];
    return `${index === 0 ? 'M' : 'L'} ${x.toFixed(2)} ${y.toFixed(2)}`;
  });
  return [
    { kind: 'tint', box, ink: { rgb: [246, 244, 238], cmyk: [2, 2, 6, 0] } },
    ...bars,
    { kind: 'path', d: steps.join(' '), stroke: RUST, widthPt: 1.2 },
    {
      kind: 'rule',
      from: { x: box.x, y: box.y + box.height },
      to: { x: box.x + box.width, y: box.y + box.height },
      widthPt: 0.5,
      ink: BLACK,
    },
    { kind: 'text', role: 'label', lines: [setLine(inventName(next), { x: box.x, baseline: box.y - 3 }, label)] },
  ];
}
