import type { Box } from '../model/index.ts';
import { intersectBoxes } from '../model/index.ts';
import { isPaper } from './flattened-page.ts';
import type { PageSide } from './page-sides.ts';
import type { PictureJudgement } from './pictures/judge-picture.ts';
import { isOther } from './pictures/judge-picture.ts';
import { pictureMissing } from './pictures/picture-came-or-went.ts';
import { seenWindow } from './pictures/seen-window.ts';
import type { VisiblePicture } from './pictures/visible-window.ts';

interface Sides {
  readonly dummy: PageSide;
  readonly revision: PageSide;
}

/** What became of a picture of the dummy on a page that is one picture from edge to edge. */
export interface SeenPicture extends PictureJudgement {
  /** Where it is seen to lie, mm on the revision's page; null where it is missing. */
  readonly window: Box | null;
}

/**
 * Judges the dummy's pictures on a page that tells none: first where they stood, then in the windows that are seen.
 *
 * @param judge  one picture in a window of each page
 */
export function judgeSeenPictures(
  sides: Sides,
  judge: (dummyPicture: VisiblePicture, revisionPicture: VisiblePicture) => PictureJudgement,
): readonly SeenPicture[] {
  const { dummy, revision } = sides;
  const rasters = { dummy: dummy.raster, revision: revision.raster };
  return dummy.pictures.map((picture): SeenPicture => {
    const judged = judge(picture, picture);
    if (isOther(judged) && isPaper(revision.raster, picture.window)) {
      return { findings: [pictureMissing(picture, sides)], colour: null, map: null, window: null };
    }
    const window = judged.map === null ? picture.window : seenWindow(rasters, picture.window, judged.map);
    return { ...(window === picture.window ? judged : judge(picture, { ...picture, window })), window };
  });
}

/**
 * The pages without the dummy's words that pictures reached which came in, moved or grew: their shapes no longer tell.
 *
 * @param reached  where pictures are on the revision's page, mm
 */
export function withoutReached({ dummy, revision }: Sides, reached: readonly Box[]): Sides {
  const stood = dummy.pictures.map(({ window }) => window);
  const within = (box: Box, places: readonly Box[]): boolean =>
    places.some((place) => intersectBoxes(place, box) !== null);
  const words = dummy.facts.words.filter(({ box }) => within(box, stood) || !within(box, reached));
  return { dummy: { ...dummy, facts: { ...dummy.facts, words } }, revision };
}
