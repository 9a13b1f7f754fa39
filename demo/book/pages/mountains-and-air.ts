import { fillFrame } from '../fill-frame.ts';
import type { PageSpec } from '../spec.ts';
import { DEEP_BLACK, SAND } from '../ink.ts';
import {
  ASPECT,
  BODY,
  captionUnder,
  FORMAT,
  FULL_BLEED,
  furniture,
  HEADING,
  leftEdge,
  MEASURE,
  openingRule,
  text,
} from '../grid.ts';

/** Pages 10 to 17: the pass over a spread, a black page, the aeroplane. */
export function mountainAndAirPages(): readonly PageSpec[] {
  const detail = { x: leftEdge(13), y: 44, width: 192, height: 144 };
  const whole = { x: leftEdge(16), y: 44, width: MEASURE, height: MEASURE / ASPECT.aeroplane };
  const roundel = { x: leftEdge(16), y: 198, width: 62, height: 62 };
  return [
    { name: 'pass over the spread, left', items: [overSpread('left')] },
    { name: 'pass over the spread, right', items: [overSpread('right')] },
    {
      name: 'chapter: the pass',
      items: [
        text('title', ['The Pass'], { x: leftEdge(12), y: 44, width: 150, height: 30 }, HEADING),
        openingRule(leftEdge(12), 66),
        text('body', PASS, { x: leftEdge(12), y: 134, width: 128, height: 120 }, BODY),
        ...furniture(12, 'The Pass'),
      ],
    },
    {
      name: 'pass, detail',
      items: [
        fillFrame('pass grey', detail, { x: 0.62, y: 0.36 }, 0.62, ASPECT.pass),
        captionUnder(detail, 'Plate 4. Above Orrel, the eleventh of November. He left this one grey.'),
        ...furniture(13, 'The Pass'),
      ],
    },
    { name: 'black', items: [{ kind: 'tint', box: FULL_BLEED, ink: DEEP_BLACK }] },
    { name: 'aeroplane, full', items: [fillFrame('aeroplane', FULL_BLEED, { x: 0.5, y: 0.5 }, 1, ASPECT.aeroplane)] },
    {
      name: 'aeroplane, whole and detail',
      items: [
        fillFrame('aeroplane', whole, { x: 0.5, y: 0.5 }, 1, ASPECT.aeroplane),
        fillFrame('aeroplane', roundel, { x: 0.83, y: 0.36 }, 0.24, ASPECT.aeroplane),
        text('caption', AEROPLANE, { x: leftEdge(16) + 68, y: 198, width: 84, height: 40 }, CAPTION_BESIDE),
        ...furniture(16, 'From Above'),
      ],
    },
    {
      name: 'chapter: from above',
      items: [
        text('title', ['From Above'], { x: leftEdge(17), y: 44, width: 150, height: 30 }, HEADING),
        openingRule(leftEdge(17), 66),
        text('body', ABOVE, { x: leftEdge(17), y: 134, width: 128, height: 100 }, BODY),
        { kind: 'tint', box: { x: 164, y: 137, width: 54, height: 60 }, ink: SAND },
        text(
          'body',
          ASIDE,
          { x: 169, y: 142, width: 45, height: 54 },
          { ...BODY, sizePt: 9, leadingPt: 13, face: 'serif-italic' },
        ),
        ...furniture(17, 'From Above'),
      ],
    },
  ];
}

/** Half of the pass: each page runs on over the spine into its bleed, as single pages are supplied. */
function overSpread(side: 'left' | 'right') {
  const spread = {
    x: 0,
    y: -FORMAT.bleed,
    width: 2 * FORMAT.width + 2 * FORMAT.bleed,
    height: FORMAT.height + 2 * FORMAT.bleed,
  };
  const { crop } = fillFrame('pass coloured', spread, { x: 0.55, y: 0.46 }, 0.96, ASPECT.pass);
  const perMm = crop.width / spread.width;
  const shown = FORMAT.width + 2 * FORMAT.bleed;
  const start = side === 'left' ? 0 : FORMAT.width;
  return {
    kind: 'picture' as const,
    source: 'pass coloured',
    frame: FULL_BLEED,
    crop: { ...crop, x: crop.x + start * perMm, width: shown * perMm },
  };
}

const CAPTION_BESIDE = { ...BODY, face: 'serif-italic', sizePt: 8.5, leadingPt: 12 };

const PASS = [
  'There are two ways over the mountain and he used the older one, because the newer had a toll. The guide’s hut has no roof now. In the lid the entry reads: “Orrel, four evenings, snow from the second, oil until half past nine.”',
  'He showed the pass first in villages that had never seen it, and last in those that lived beneath it. Under the pass itself, at Málaholt, an old woman is said to have stood up, walked to the sheet, and put her finger on a dark place between two trees. “There,” she said, and sat down again. Nobody has found out what she meant.',
  'The large plate was coloured in the year of the flood. The blue is washing blue; the warm tone on the slopes, according to his niece, is tea.',
];
const AEROPLANE = [
  'Plate 22. Nobody in the valley had seen an aeroplane from the side, and he owned a picture of one from above.',
  'The ring on its wing was shown alone, afterwards, and taken by most for the moon.',
];
const ABOVE = [
  'It is not known where he got the plate with the aeroplane. It is the only one without a strip of black paper, and the only one he let the children hold. He put it in after the mountains, without a word, so that it followed upon the highest thing that anybody in the room had ever looked up to.',
  'Then he turned the lamp down. The black that you find opposite the picture is meant: he left the barn dark for as long as it takes to count to forty, and people who were there describe that darkness as though it had been one of the plates.',
];
const ASIDE = [
  '“Forty,” the list has it in the margin, underlined twice, and in another hand: “at Sauverné only twenty, because of the dogs.”',
];
