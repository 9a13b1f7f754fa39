import type { Box, Mm } from '../../src/model/index.ts';
import { BLACK, GREY, OCHRE } from './ink.ts';
import type { PageItem, TextItem } from './spec.ts';
import { setLine, setParagraphs } from './typeset.ts';
import type { Setting } from './typeset.ts';

/** The format and the margins that every page of the demonstration book hangs on. */
export const FORMAT = { width: 240, height: 300, bleed: 3 } as const;
const MARGIN = { inner: 26, outer: 22, top: 30, bottom: 34 } as const;
/** Width between the margins. */
export const MEASURE = FORMAT.width - MARGIN.inner - MARGIN.outer;

export const BODY: Setting = { face: 'serif', sizePt: 11.5, leadingPt: 17, ink: BLACK, indentMm: 5 };
export const LEAD: Setting = { face: 'serif-italic', sizePt: 15, leadingPt: 21, ink: BLACK };
export const HEADING: Setting = { face: 'serif-light', sizePt: 34, leadingPt: 38, ink: BLACK };
const CAPTION: Setting = { face: 'serif-italic', sizePt: 9, leadingPt: 12.5, ink: GREY };
export const SMALL: Setting = { face: 'serif', sizePt: 8, leadingPt: 11.5, ink: GREY };

/** Left edge of the type area: the inner margin changes sides with the page. */
export function leftEdge(pageNumber: number): Mm {
  return pageNumber % 2 === 1 ? MARGIN.inner : MARGIN.outer;
}

/** The folio at the foot of the outer edge, and the running head above it all. */
export function furniture(pageNumber: number, head: string): readonly PageItem[] {
  const recto = pageNumber % 2 === 1;
  const edge = recto ? FORMAT.width - MARGIN.outer : MARGIN.outer;
  const align = recto ? 'right' : 'left';
  const folio: Setting = { face: 'serif', sizePt: 9, leadingPt: 12, ink: BLACK, align };
  const running: Setting = { face: 'serif-italic', sizePt: 8.5, leadingPt: 12, ink: GREY, align };
  const line = (role: TextItem['role'], words: string, baseline: Mm, setting: Setting): TextItem => ({
    kind: 'text',
    role,
    lines: [setLine(words, { x: edge, baseline }, setting)],
  });
  return [line('running-head', head, 17, running), line('folio', String(pageNumber), FORMAT.height - 16, folio)];
}

/** Text in a box. */
export function text(role: TextItem['role'], paragraphs: readonly string[], box: Box, setting: Setting): TextItem {
  return { kind: 'text', role, lines: setParagraphs(paragraphs, box, setting) };
}

/** A caption under a frame, as wide as it. */
export function captionUnder(frame: Box, words: string): TextItem {
  return text(
    'caption',
    [words],
    { x: frame.x, y: frame.y + frame.height + 2.5, width: frame.width, height: 24 },
    CAPTION,
  );
}

/** The ochre rule that opens a chapter. */
export function openingRule(x: Mm, y: Mm): PageItem {
  return { kind: 'rule', from: { x, y }, to: { x: x + 18, y }, widthPt: 1.2, ink: OCHRE };
}

/** All of the page and its bleed. */
export const FULL_BLEED: Box = {
  x: -FORMAT.bleed,
  y: -FORMAT.bleed,
  width: FORMAT.width + 2 * FORMAT.bleed,
  height: FORMAT.height + 2 * FORMAT.bleed,
};

/** Width over height of the photographs. */
export const ASPECT = {
  thistle: 790 / 1024,
  aeroplane: 1024 / 717,
  onion: 807 / 1024,
  house: 1024 / 788,
  pass: 1024 / 484,
  cat: 1024 / 510,
  harbour: 1024 / 819,
} as const;
