import { fillFrame } from '../fill-frame.ts';
import type { PageSpec } from '../spec.ts';
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
  text,
} from '../grid.ts';

/** Pages 18 to 22: two frames of the harbour a breath apart, its mast, grey beside coloured. */
export function harbourPages(): readonly PageSpec[] {
  const framed = (pageNumber: number) => ({
    x: leftEdge(pageNumber),
    y: 44,
    width: MEASURE,
    height: MEASURE / ASPECT.harbour,
  });
  const upper = { x: leftEdge(21), y: 38, width: 132, height: 100 };
  const lower = { x: leftEdge(21), y: 150, width: 132, height: 100 };
  return [
    {
      name: 'harbour, first frame',
      items: [
        fillFrame('harbour', framed(18), { x: 0.5, y: 0.5 }, 0.97, ASPECT.harbour),
        captionUnder(framed(18), 'Plate 30. Port Sennar at the turn of the tide.'),
        ...furniture(18, 'The Harbour'),
      ],
    },
    {
      name: 'harbour, second frame',
      items: [
        fillFrame('harbour later', framed(19), { x: 0.5, y: 0.5 }, 0.97, ASPECT.harbour),
        captionUnder(framed(19), 'Plate 31. The same, a breath later; the boatman has gone below.'),
        ...furniture(19, 'The Harbour'),
      ],
    },
    {
      name: 'harbour, mast',
      items: [fillFrame('harbour coloured', FULL_BLEED, { x: 0.6, y: 0.42 }, 0.78, ASPECT.harbour)],
    },
    {
      name: 'harbour, grey beside coloured',
      items: [
        fillFrame('harbour grey', upper, { x: 0.36, y: 0.84 }, 0.52, ASPECT.harbour),
        fillFrame('harbour coloured', lower, { x: 0.7, y: 0.5 }, 0.5, ASPECT.harbour),
        text(
          'caption',
          ['Plates 32 and 33. In one evening he showed the boat grey and the hull in colours.'],
          { x: leftEdge(21) + 138, y: 151, width: 48, height: 60 },
          SIDE,
        ),
        ...furniture(21, 'The Harbour'),
      ],
    },
    {
      name: 'chapter: the flats',
      items: [
        text('title', ['The Flats'], { x: leftEdge(22), y: 44, width: 150, height: 30 }, HEADING),
        openingRule(leftEdge(22), 66),
        text('body', FLATS, { x: leftEdge(22), y: 134, width: 128, height: 120 }, BODY),
        ...furniture(22, 'The Flats'),
      ],
    },
  ];
}

const SIDE = { ...BODY, face: 'serif-italic', sizePt: 8.5, leadingPt: 12 };

const FLATS = [
  'Behind Brackmere the ground is so level that a cart seen in the morning arrives in the afternoon. Somebody built a house there, nobody remembers who, and left it with the door open.',
  'Edmé had one plate of it and made it last for a quarter of an hour. He showed the whole; then the door alone; then, with the lens unscrewed to its last turn, only the sky. “At Brackmere,” the list says, “they asked for the door again, and whether anybody had come out of it since last year.”',
  'I have been there. The boards are silver now and the roof has gone over to one side, towards the east, as roofs do here: the wind has all day for it.',
];
