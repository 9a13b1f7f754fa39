import { intersectBoxes } from '../../src/model/index.ts';
import type { Box } from '../../src/model/index.ts';
import type { PictureItem } from './spec.ts';

/** A picture's content on the page before it is turned or flipped about the middle of its window. */
export interface Placement {
  /** Where the crop lies; has the frame's sides exchanged for a quarter turn. */
  readonly content: Box;
  /** Millimetres for the whole width and height of the source. */
  readonly sourceMm: { readonly width: number; readonly height: number };
}

/** Where a picture's crop lies, and at what scale. */
export function placePicture(item: PictureItem): Placement {
  const quarter = Math.round((item.turnDeg ?? 0) / 90) % 2 !== 0;
  const width = quarter ? item.frame.height : item.frame.width;
  const height = quarter ? item.frame.width : item.frame.height;
  const content = {
    x: item.frame.x + (item.frame.width - width) / 2,
    y: item.frame.y + (item.frame.height - height) / 2,
    width,
    height,
  };
  return { content, sourceMm: { width: width / item.crop.width, height: height / item.crop.height } };
}

/** A region of the source, in fractions, as it lies on the page. */
export function regionOnPage(item: PictureItem, region: Box): Box {
  const { content, sourceMm } = placePicture(item);
  return {
    x: content.x + (region.x - item.crop.x) * sourceMm.width,
    y: content.y + (region.y - item.crop.y) * sourceMm.height,
    width: region.width * sourceMm.width,
    height: region.height * sourceMm.height,
  };
}

/** Whether the content is neither turned nor flipped, so that its box is cut as the page is. */
export function isUpright(item: PictureItem): boolean {
  return (item.turnDeg ?? 0) === 0 && item.mirrored === undefined;
}

/**
 * The picture cut to what the sheet can show.
 *
 * @param media  all that exists of the page, in mm from the trim's top left
 * @returns null where nothing of it is on the sheet
 */
export function cutToMedia(item: PictureItem, media: Box): PictureItem | null {
  const frame = intersectBoxes(item.frame, media);
  if (frame === null) return null;
  if (!isUpright(item)) return item;
  const { sourceMm } = placePicture(item);
  const crop = {
    x: item.crop.x + (frame.x - item.frame.x) / sourceMm.width,
    y: item.crop.y + (frame.y - item.frame.y) / sourceMm.height,
    width: frame.width / sourceMm.width,
    height: frame.height / sourceMm.height,
  };
  return { ...item, frame, crop };
}
