import type { Box } from '../../../src/model/index.ts';
import { fillFrame } from '../fill-frame.ts';
import type { PageItem, PageSpec } from '../spec.ts';
import { BLACK, GREY, PAPER } from '../ink.ts';
import {
  ASPECT,
  BODY,
  captionUnder,
  FULL_BLEED,
  furniture,
  HEADING,
  leftEdge,
  MEASURE,
  openingRule,
  SMALL,
  text,
} from '../grid.ts';
import { setLine } from '../typeset.ts';

/** Pages 23 to 32: the house, the cat, the plants, the list of plates, the last page. */
export function flatsAndSmallThings(): readonly PageSpec[] {
  const square = { x: leftEdge(23), y: 44, width: 168, height: 168 };
  const door = { x: leftEdge(25), y: 44, width: 120, height: 150 };
  const small = { x: leftEdge(25) + 128, y: 148, width: 60, height: 46 };
  const plate = { x: leftEdge(26), y: 44, width: MEASURE, height: MEASURE / ASPECT.cat };
  return [
    {
      name: 'house',
      items: [
        fillFrame('house', square, { x: 0.6, y: 0.5 }, 0.94, ASPECT.house),
        captionUnder(square, 'Plate 40. The house behind Brackmere.'),
        ...furniture(23, 'The Flats'),
      ],
    },
    {
      name: 'house, sky',
      items: [
        fillFrame('house coloured', FULL_BLEED, { x: 0.3, y: 0.2 }, 0.42, ASPECT.house),
        text(
          'caption',
          ['Plate 42, the sky, for which he unscrewed the lens.'],
          { x: leftEdge(24), y: 270, width: 90, height: 12 },
          WHITE,
        ),
      ],
    },
    {
      name: 'house, door and whole',
      items: [
        fillFrame('house', door, { x: 0.635, y: 0.49 }, 0.36, ASPECT.house),
        fillFrame('house', small, { x: 0.5, y: 0.5 }, 1, ASPECT.house),
        captionUnder(door, 'Plate 41. The door.'),
        captionUnder(small, 'Plate 40, small.'),
        ...furniture(25, 'The Flats'),
      ],
    },
    {
      name: 'cat, whole plate',
      items: [
        fillFrame('cat', plate, { x: 0.5, y: 0.5 }, 1, ASPECT.cat),
        captionUnder(plate, 'Plate 60. Twenty-four cats, or one cat in one second.'),
        text('body', CAT, { x: leftEdge(26), y: 166, width: 128, height: 70 }, BODY),
        ...furniture(26, 'Small Matters'),
      ],
    },
    { name: 'cat, six steps', items: [...catSteps(), ...furniture(27, 'Small Matters')] },
    smallMatters(),
    { name: 'onion', items: [fillFrame('onion', FULL_BLEED, { x: 0.5, y: 0.36 }, 0.9, ASPECT.onion)] },
    {
      name: 'thistle',
      items: [
        fillFrame('thistle', { x: 62, y: 36, width: 116, height: 150 }, { x: 0.5, y: 0.5 }, 1, ASPECT.thistle),
        captionUnder({ x: 62, y: 36, width: 116, height: 150 }, 'Plate 72. He called it the organist.'),
        ...furniture(30, 'Small Matters'),
      ],
    },
    listOfPlates(),
    {
      name: 'last page',
      items: [
        fillFrame('harbour', { x: 92, y: 108, width: 56, height: 44.8 }, { x: 0.5, y: 0.5 }, 0.97, ASPECT.harbour),
        {
          kind: 'text',
          role: 'caption',
          lines: [
            setLine('Look again.', { x: 120, baseline: 164 }, { ...BODY, face: 'serif-italic', align: 'centre' }),
          ],
        },
      ],
    },
  ];
}

const WHITE = { face: 'serif-italic', sizePt: 9.5, leadingPt: 13, ink: PAPER } as const;

function catSteps(): readonly PageItem[] {
  return [0, 1, 2, 3, 4, 5].flatMap((step): PageItem[] => {
    const frame: Box = { x: leftEdge(27) + (step % 2) * 98, y: 44 + Math.floor(step / 2) * 72, width: 94, height: 60 };
    const cat = fillFrame('cat', frame, { x: 0.09 + 0.1625 * step, y: 0.875 }, 0.2, ASPECT.cat);
    return [cat, captionUnder(frame, `${step + 1}`)];
  });
}

function smallMatters(): PageSpec {
  const frame = { x: leftEdge(28) + 136, y: 136, width: 56, height: 74 };
  return {
    name: 'chapter: small matters',
    items: [
      text('title', ['Small Matters'], { x: leftEdge(28), y: 44, width: 150, height: 30 }, HEADING),
      openingRule(leftEdge(28), 66),
      text('body', SMALL_MATTERS, { x: leftEdge(28), y: 134, width: 128, height: 120 }, BODY),
      fillFrame('thistle', frame, { x: 0.5, y: 0.2 }, 0.5, ASPECT.thistle),
      captionUnder(frame, 'Plate 71.'),
      ...furniture(28, 'Small Matters'),
    ],
  };
}

function listOfPlates(): PageSpec {
  const row = { face: 'serif', sizePt: 9, leadingPt: 13, ink: BLACK } as const;
  const x = leftEdge(31);
  return {
    name: 'list of plates',
    items: [
      text('title', ['Plates'], { x, y: 44, width: 150, height: 30 }, HEADING),
      openingRule(x, 66),
      ...PLATES.flatMap(([plate, words, pages], index): PageItem[] => {
        const baseline = 84 + index * 9;
        return [
          { kind: 'text', role: 'body', lines: [setLine(plate, { x, baseline }, { ...row, face: 'serif-semibold' })] },
          { kind: 'text', role: 'body', lines: [setLine(words, { x: x + 16, baseline }, row)] },
          {
            kind: 'text',
            role: 'body',
            lines: [setLine(pages, { x: x + 150, baseline }, { ...row, ink: GREY, align: 'right' })],
          },
          {
            kind: 'rule',
            from: { x, y: baseline + 2.8 },
            to: { x: x + 150, y: baseline + 2.8 },
            widthPt: 0.25,
            ink: GREY,
          },
        ];
      }),
      text(
        'body',
        ['The numbers are those scratched into the glass. Plates that are broken beyond mending are not listed.'],
        { x, y: 218, width: 120, height: 20 },
        SMALL,
      ),
      ...furniture(31, 'Plates'),
    ],
  };
}

const PLATES: readonly (readonly [string, string, string])[] = [
  ['3', 'The pass from the south, coloured with washing blue and tea', '10–11'],
  ['4', 'Above Orrel, grey', '13'],
  ['22', 'Aeroplane from above', '15, 16'],
  ['30', 'Port Sennar, the turn of the tide', '18, 32'],
  ['31', 'Port Sennar, a breath later', '19'],
  ['32', 'Covered boat, grey', '21'],
  ['33', 'Hull on the mud, coloured', '20, 21'],
  ['40', 'The house behind Brackmere', '23, 25'],
  ['41', 'The door', '25'],
  ['42', 'The sky over the house', '24'],
  ['60', 'Cat, twenty-four times', '26'],
  ['61', 'Cat, cracked', '8, 27'],
  ['70', 'Wild onion, Sauverné', '29'],
  ['71', 'Thistle, upper part', '28'],
  ['72', 'Thistle, “the organist”', '30'],
];

const CAT = [
  'He kept it for the end. The plate is a sheet of little windows, and a cat walks through them from left to right, row after row, until in the last it runs.',
  'With a card he covered all windows but one and moved the card along. From the back of a barn, I am told, it ran.',
];

const SMALL_MATTERS = [
  'The last row in the box holds plants. They are the newest plates, and the only ones that he may have made himself: the background is the kitchen wall at Ødsund, whitewashed, with the crack that his niece still has behind the stove.',
  'He showed them as if they were buildings. A thistle had storeys and balconies; a wild onion was, in Sauverné, the church at Čeřín, and in Čeřín the one at Sauverné. He was never corrected.',
  'It is the only joke of his that we know of, and he told it for thirty winters.',
];
