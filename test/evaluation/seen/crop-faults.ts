import { changePicture, cutEdge, scaleContent, shiftContent } from '../../../demo/book/edits/pictures.ts';
import type { ExcerptName } from './excerpts.ts';
import type { PlantedFault } from './planted-fault.ts';

/** Excerpt, page, which picture of the page. */
type Where = readonly [ExcerptName, number, number];

function shifted([excerpt, page, nth]: Where, rightMm: number, downMm: number): PlantedFault {
  return {
    name: `picture ${nth} of page ${page}: content ${rightMm} mm right, ${downMm} mm down`,
    excerpt,
    edit: changePicture(page, nth, shiftContent(rightMm, downMm)),
    expected: [{ kind: 'crop-altered', dummyPage: page, figures: { shiftXmm: rightMm, shiftYmm: downMm, scale: 1 } }],
  };
}

function scaled([excerpt, page, nth]: Where, scale: number): PlantedFault {
  return {
    name: `picture ${nth} of page ${page}: content scaled by ${scale}`,
    excerpt,
    edit: changePicture(page, nth, scaleContent(scale)),
    expected: [{ kind: 'crop-altered', dummyPage: page, figures: { shiftXmm: 0, shiftYmm: 0, scale } }],
  };
}

function cut([excerpt, page, nth]: Where, edge: 'left' | 'right' | 'top' | 'bottom', mm: number): PlantedFault {
  return {
    name: `picture ${nth} of page ${page}: window ${mm} mm in at the ${edge}`,
    excerpt,
    edit: changePicture(page, nth, cutEdge(edge, mm)),
    expected: [
      { kind: 'crop-altered', dummyPage: page, figures: { shiftXmm: 0, shiftYmm: 0, scale: 1, cutMm: { edge, mm } } },
    ],
  };
}

/** Content that slipped or grew in its window, and windows that were cut. */
export const CROP_FAULTS: readonly PlantedFault[] = [
  shifted(['winter one', 2, 1], 0.5, 0),
  shifted(['winter one', 3, 1], 0, -0.7),
  shifted(['winter one', 4, 1], -0.7, 0.7),
  shifted(['winter one', 5, 2], 1, 0),
  shifted(['winter two', 1, 1], 0, 2),
  shifted(['winter two', 2, 2], 0.5, -0.5),
  shifted(['winter two', 3, 1], -4, 0),
  shifted(['salt one', 2, 1], 0.5, 0),
  shifted(['salt one', 3, 1], 0, 1),
  shifted(['salt one', 4, 2], 0, -0.5),
  shifted(['salt one', 5, 1], 0.7, 0),
  shifted(['salt two', 3, 1], -2, 1),
  shifted(['salt two', 4, 1], 0, 1),
  shifted(['ledge one', 1, 1], 1, 1),
  shifted(['ledge one', 2, 1], -0.5, 0.5),
  shifted(['ledge one', 4, 3], 0, 0.7),
  shifted(['ledge two', 1, 1], 0, 0.5),
  shifted(['ledge two', 2, 1], 4, 0),
  shifted(['salt, soft', 1, 1], 2, 0),
  shifted(['salt, soft', 2, 1], 0, -1.5),
  scaled(['winter one', 3, 1], 1.03),
  scaled(['winter two', 1, 1], 1.015),
  scaled(['winter two', 3, 1], 0.94),
  scaled(['salt one', 2, 1], 1.015),
  scaled(['salt one', 3, 1], 1.06),
  scaled(['ledge one', 3, 1], 0.985),
  scaled(['ledge two', 3, 2], 1.03),
  cut(['winter one', 2, 1], 'left', 0.5),
  cut(['winter one', 4, 1], 'bottom', 1),
  cut(['winter two', 2, 1], 'right', -1),
  cut(['salt one', 3, 1], 'top', 3),
  cut(['salt two', 6, 1], 'right', 0.5),
  cut(['ledge one', 2, 1], 'bottom', -0.5),
  cut(['ledge one', 4, 2], 'left', 1),
];
