import { changePicture } from '../../../demo/book/edits/pictures.ts';
import { placePicture } from '../../../demo/book/placement.ts';
import type { PictureItem, Treatment } from '../../../demo/book/spec.ts';
import type { Box } from '../../../src/model/index.ts';
import type { ExcerptName } from './excerpts.ts';
import { openExcerpt } from './excerpts.ts';
import type { PlantedFault } from './planted-fault.ts';

/** A round patch: its middle in fractions of what shows, its share of it. */
interface Patch {
  readonly x: number;
  readonly y: number;
  readonly percent: number;
}

/** The patch as a box of the source; round on the page. */
function patchBox(item: PictureItem, { x, y, percent }: Patch): Box {
  const { sourceMm } = placePicture(item);
  const acrossMm = 2 * Math.sqrt((item.frame.width * item.frame.height * percent) / 100 / Math.PI);
  const [width, height] = [acrossMm / sourceMm.width, acrossMm / sourceMm.height];
  return {
    x: item.crop.x + x * item.crop.width - width / 2,
    y: item.crop.y + y * item.crop.height - height / 2,
    width,
    height,
  };
}

type Change = (box: Box, item: PictureItem) => Treatment;

function retouched(
  where: readonly [ExcerptName, number, number],
  patch: Patch,
  name: string,
  change: Change,
): PlantedFault {
  const [excerpt, page, nth] = where;
  const item = openExcerpt(excerpt).spec.pages[page - 1]?.items.filter((each) => each.kind === 'picture')[nth - 1];
  if (item === undefined) throw new Error(`page ${page} has no picture ${nth}`);
  const areaMm2 = (item.frame.width * item.frame.height * patch.percent) / 100;
  const edit = (of: PictureItem): PictureItem => ({ ...of, treatments: [change(patchBox(of, patch), of)] });
  return {
    name: `picture ${nth} of page ${page}: ${patch.percent} % ${name}`,
    excerpt,
    edit: changePicture(page, nth, edit),
    expected: [{ kind: 'picture-retouched', dummyPage: page, figures: { areaMm2 } }],
  };
}

const smoothed: Change = (box) => ({ kind: 'smoothed', box });
const lighter: Change = (box) => ({ kind: 'dodged', box, factor: 1.5 });
const darker: Change = (box) => ({ kind: 'dodged', box, factor: 0.6 });
/** A piece from another place of what shows. */
const pastedFrom =
  (x: number, y: number): Change =>
  (box, { crop }) => ({ kind: 'pasted', box, from: { x: crop.x + x * crop.width, y: crop.y + y * crop.height } });

/** Spots brushed away, brightened, pasted over, where they can be seen. */
export const RETOUCH_FAULTS: readonly PlantedFault[] = [
  retouched(['winter one', 4, 1], { x: 0.55, y: 0.5, percent: 0.5 }, 'brushed away', smoothed),
  retouched(['winter one', 3, 1], { x: 0.585, y: 0.3, percent: 0.2 }, 'pasted over', pastedFrom(0.2, 0.6)),
  retouched(['winter two', 1, 1], { x: 0.5, y: 0.62, percent: 2 }, 'brushed away', smoothed),
  retouched(['winter one', 2, 1], { x: 0.5, y: 0.12, percent: 0.2 }, 'darkened', darker),
  retouched(['winter one', 5, 1], { x: 0.25, y: 0.33, percent: 0.5 }, 'pasted over', pastedFrom(0.05, 0.05)),
  retouched(['salt one', 2, 1], { x: 0.4, y: 0.6, percent: 0.2 }, 'brushed away', smoothed),
  retouched(['salt one', 3, 1], { x: 0.52, y: 0.48, percent: 0.5 }, 'brushed away', smoothed),
  retouched(['salt one', 4, 1], { x: 0.3, y: 0.5, percent: 0.5 }, 'darkened', darker),
  retouched(['salt two', 3, 1], { x: 0.5, y: 0.3, percent: 2 }, 'lightened', lighter),
  retouched(['salt one', 5, 1], { x: 0.52, y: 0.42, percent: 2 }, 'pasted over', pastedFrom(0.05, 0.05)),
  retouched(['ledge one', 2, 1], { x: 0.3, y: 0.3, percent: 0.2 }, 'lightened', lighter),
  retouched(['ledge one', 1, 1], { x: 0.4, y: 0.75, percent: 0.5 }, 'darkened', darker),
  retouched(['ledge two', 2, 1], { x: 0.55, y: 0.5, percent: 2 }, 'pasted over', pastedFrom(0.1, 0.13)),
  retouched(['ledge two', 4, 2], { x: 0.7, y: 0.5, percent: 0.5 }, 'brushed away', smoothed),
];
