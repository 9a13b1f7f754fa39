import {
  addPicture,
  changePicture,
  coarsen,
  dropPicture,
  mirrorContent,
  moveFrame,
  replaceSource,
  scaleFrame,
  treatPicture,
  turnContent,
} from '../../../demo/book/edits/pictures.ts';
import type { PictureEdit } from '../../../demo/book/edits/pictures.ts';
import type { Edit } from '../../../demo/book/edits/pages.ts';
import { ASPECT } from '../../../demo/book/grid.ts';
import { fillFrame } from '../../../demo/book/fill-frame.ts';
import type { Treatment } from '../../../demo/book/spec.ts';
import type { FindingKind } from '../../../src/model/index.ts';
import { INVENTED_ASPECT } from '../books/invented-pictures.ts';
import type { ExcerptName } from './excerpts.ts';
import type { PlantedFault, TrueFigures } from './planted-fault.ts';

type Where = readonly [ExcerptName, number, number];

function one(
  excerpt: ExcerptName,
  page: number,
  name: string,
  kind: FindingKind,
  edit: Edit,
  figures?: TrueFigures,
): PlantedFault {
  const expected = { kind, dummyPage: page, ...(figures === undefined ? {} : { figures }) };
  return { name: `page ${page}: ${name}`, excerpt, edit, expected: [expected] };
}

function altered(
  [excerpt, page, nth]: Where,
  name: string,
  kind: FindingKind,
  edit: PictureEdit,
  figures?: TrueFigures,
): PlantedFault {
  return one(excerpt, page, `picture ${nth} ${name}`, kind, changePicture(page, nth, edit), figures);
}

const missing = ([excerpt, page, nth]: Where): PlantedFault =>
  one(excerpt, page, `picture ${nth} lost`, 'picture-missing', dropPicture(page, nth));
const replaced = (where: Where, source: string): PlantedFault =>
  altered(where, `replaced by ${source}`, 'picture-replaced', replaceSource(source));
const moved = (where: Where, x: number, y: number): PlantedFault =>
  altered(where, `moved by ${x}, ${y} mm`, 'picture-moved', moveFrame(x, y), { shiftXmm: x, shiftYmm: y });
const resized = (where: Where, scale: number): PlantedFault =>
  altered(where, `scaled by ${scale} with its frame`, 'picture-resized', scaleFrame(scale), { scale });
const turned = (where: Where, degrees: number): PlantedFault =>
  altered(where, `turned by ${degrees} degrees`, 'picture-turned', turnContent(degrees), { degrees });
const mirrored = (where: Where, axis: 'horizontal' | 'vertical'): PlantedFault =>
  altered(where, `mirrored, ${axis}`, 'picture-mirrored', mirrorContent(axis));
const recoloured = (where: Where, treatment: Treatment): PlantedFault =>
  altered(where, `recoloured: ${treatment.kind}`, 'picture-recoloured', treatPicture(treatment));
const coarse = (where: Where, ppi: number): PlantedFault =>
  altered(where, `left at ${ppi} ppi`, 'picture-coarse', coarsen(ppi));

const STRAY_HARBOUR = fillFrame(
  'harbour',
  { x: 150, y: 206, width: 60, height: 44 },
  { x: 0.5, y: 0.5 },
  0.8,
  ASPECT.harbour,
);
const STRAY_DUNES = fillFrame(
  'dunes 23',
  { x: 190, y: 140, width: 60, height: 44 },
  { x: 0.5, y: 0.5 },
  0.8,
  INVENTED_ASPECT,
);

/** Pictures lost, strange, exchanged, moved, grown, turned, flipped, of other colours, coarse. */
export const PICTURE_FAULTS: readonly PlantedFault[] = [
  missing(['winter one', 5, 2]),
  missing(['salt one', 5, 3]),
  missing(['ledge two', 3, 1]),
  one('winter one', 1, 'a picture came in', 'picture-added', addPicture(1, STRAY_HARBOUR)),
  one('ledge one', 6, 'a picture came in', 'picture-added', addPicture(6, STRAY_DUNES)),
  replaced(['winter three', 1, 1], 'harbour later'),
  replaced(['salt one', 2, 1], 'foliage 11 later'),
  replaced(['winter one', 4, 1], 'harbour'),
  replaced(['salt two', 5, 2], 'stone 12'),
  replaced(['ledge one', 4, 4], 'facade 24'),
  moved(['winter one', 2, 1], 1, 0),
  moved(['winter two', 3, 2], 0, -2),
  moved(['salt one', 4, 2], 5, 0),
  moved(['ledge two', 5, 1], 1, 1),
  resized(['winter one', 5, 1], 0.97),
  resized(['salt one', 3, 1], 1.05),
  resized(['ledge one', 2, 1], 0.97),
  turned(['winter one', 3, 1], 0.5),
  turned(['winter two', 3, 1], -1),
  turned(['salt one', 2, 1], 2),
  turned(['salt one', 5, 2], 0.5),
  turned(['ledge one', 2, 1], 1),
  turned(['salt two', 5, 4], 90),
  turned(['winter two', 2, 2], 180),
  turned(['ledge two', 4, 2], 180),
  mirrored(['winter one', 3, 1], 'horizontal'),
  mirrored(['winter one', 4, 1], 'vertical'),
  mirrored(['ledge one', 1, 1], 'horizontal'),
  mirrored(['salt one', 3, 1], 'horizontal'),
  recoloured(['winter two', 2, 2], { kind: 'grey' }),
  recoloured(['winter one', 3, 1], { kind: 'inverted' }),
  recoloured(['salt one', 4, 1], { kind: 'cast', factors: [1.22, 0.98, 0.78] }),
  recoloured(['salt one', 5, 1], { kind: 'grey' }),
  recoloured(['ledge one', 1, 1], { kind: 'cast', factors: [0.8, 1.05, 1.15] }),
  recoloured(['ledge two', 2, 1], { kind: 'contrast', factor: 2.2 }),
  coarse(['winter one', 3, 1], 72),
  coarse(['salt one', 2, 1], 72),
  coarse(['ledge one', 3, 2], 72),
];
