import type { PageItem, PageSpec } from '../spec.ts';
import { BLACK, GREY, MOSS, PAPER, RUST, SAND, WATER } from '../ink.ts';
import { furniture, HEADING, leftEdge, SMALL, text } from '../grid.ts';
import { setLine } from '../typeset.ts';

const LABEL = { face: 'serif-italic', sizePt: 9, leadingPt: 12, ink: BLACK } as const;

// Drawn by hand in mm of the page.
const LAND = 'M 26 92 L 214 92 L 214 232 L 26 232 Z';
const SEA =
  'M 26 232 L 26 176 C 40 170 46 182 58 180 C 72 178 70 192 84 196 C 98 200 104 190 112 200 C 120 210 110 218 124 222 C 132 225 136 228 138 232 Z';
const LAKE = 'M 150 190 C 158 182 172 184 178 190 C 186 198 176 206 166 205 C 156 204 144 200 150 190 Z';
const HILLS = [
  'M 40 128 C 52 108 66 104 80 118 C 92 102 112 98 124 116 C 134 110 142 112 148 122 C 132 128 118 122 104 130 C 84 138 62 132 40 128 Z',
  'M 130 152 C 146 136 168 134 186 148 C 196 142 206 146 210 154 C 192 162 176 154 160 162 C 148 166 136 162 130 152 Z',
];
const CONTOURS = [
  'M 52 122 C 60 113 68 112 77 121',
  'M 88 118 C 98 107 110 106 119 118',
  'M 146 150 C 156 141 168 140 180 150',
];
const RIVER = 'M 116 122 C 120 140 132 146 134 160 C 136 174 128 182 134 192 C 138 200 130 210 128 224';
/** The round itself; a revision of the demonstration alters it. */
const ROUND =
  'M 62 186 C 70 166 56 152 66 140 C 76 126 96 134 104 120 C 112 108 132 110 140 126 C 150 144 176 140 190 160 C 200 174 192 186 182 196 C 170 212 150 214 134 204 C 112 192 84 206 62 186';

const PLACES: readonly (readonly [string, number, number])[] = [
  ['Ødsund', 62, 186],
  ['Málaholt', 66, 140],
  ['Orrel', 104, 120],
  ['Čeřín', 140, 126],
  ['Sauverné', 190, 160],
  ['Brackmere', 182, 196],
  ['Port Sennar', 134, 204],
];

/** Page 9: the round as a map, in vectors only. */
export function mapPage(): PageSpec {
  const items: PageItem[] = [
    text('title', ['The Round'], { x: leftEdge(9), y: 44, width: 150, height: 30 }, HEADING),
    { kind: 'path', d: LAND, fill: SAND },
    ...HILLS.map((d): PageItem => ({ kind: 'path', d, fill: MOSS })),
    ...CONTOURS.map((d): PageItem => ({ kind: 'path', d, stroke: GREY, widthPt: 0.3 })),
    { kind: 'path', d: SEA, fill: WATER },
    { kind: 'path', d: LAKE, fill: WATER, stroke: GREY, widthPt: 0.3 },
    { kind: 'path', d: RIVER, stroke: WATER, widthPt: 2 },
    { kind: 'path', d: ROUND, stroke: RUST, widthPt: 1, dashPt: [4, 3] },
    { kind: 'path', d: LAND, stroke: BLACK, widthPt: 0.5 },
    ...PLACES.flatMap(([name, x, y]): PageItem[] => [
      { kind: 'path', d: circle(x, y, 1.5), fill: PAPER, stroke: RUST, widthPt: 0.8 },
      { kind: 'text', role: 'label', lines: [setLine(name, { x: x + 3, baseline: y - 1.6 }, LABEL)] },
    ]),
    { kind: 'text', role: 'label', lines: [setLine('Skarn Sound', { x: 44, baseline: 216 }, { ...LABEL, ink: GREY })] },
    ...scaleBar(26, 240),
    text('caption', [LEGEND], { x: 120, y: 236, width: 94, height: 24 }, SMALL),
    ...furniture(9, 'The Round'),
  ];
  return { name: 'map', items };
}

function scaleBar(x: number, y: number): readonly PageItem[] {
  return [
    ...[0, 1, 2, 3].map((part): PageItem => ({
      kind: 'tint',
      box: { x: x + part * 12, y, width: 12, height: 1.6 },
      ink: part % 2 === 0 ? BLACK : SAND,
    })),
    {
      kind: 'text',
      role: 'label',
      lines: [setLine('0              10              20 hours on foot', { x, baseline: y + 6 }, SMALL)],
    },
  ];
}

const LEGEND =
  'The way of the lantern in the winter of the long frost, after the pencil list in the lid: seven villages, thirty-four evenings.';

/** A circle as four curves. @source the usual cubic approximation of a quarter circle, 0.5523 of the radius */
function circle(x: number, y: number, r: number): string {
  const k = r * 0.5523;
  return [
    `M ${x - r} ${y}`,
    `C ${x - r} ${y - k} ${x - k} ${y - r} ${x} ${y - r}`,
    `C ${x + k} ${y - r} ${x + r} ${y - k} ${x + r} ${y}`,
    `C ${x + r} ${y + k} ${x + k} ${y + r} ${x} ${y + r}`,
    `C ${x - k} ${y + r} ${x - r} ${y + k} ${x - r} ${y} Z`,
  ].join(' ');
}
