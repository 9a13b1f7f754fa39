import type { Box } from '../../../model/index.ts';
import { intersectBoxes, uniteBoxes } from '../../../model/index.ts';
import { boundingBox, clipByConvex, isConvex, signedArea } from './polygon.ts';
import type { Polygon } from './polygon.ts';

/** A path as polygons, its curves flattened. */
export type Outline = readonly Polygon[];

/** What lets marks through: the convex part, and every outline with dents or several parts as well. */
export interface Clip {
  /** No corners where nothing shows. */
  readonly convex: Polygon;
  readonly dented: readonly Outline[];
}

const SMALLEST_AREA_MM2 = 1e-9;

/** A clip narrowed by a further path. */
export function narrowClip(clip: Clip, outline: Outline): Clip {
  const parts = outline.filter((part) => Math.abs(signedArea(part)) > SMALLEST_AREA_MM2);
  const [only] = parts;
  if (only === undefined) return { convex: [], dented: [] };
  if (parts.length === 1 && isConvex(only)) {
    return { convex: clipByConvex(clip.convex, only), dented: clip.dented };
  }
  return { convex: clip.convex, dented: [...clip.dented, parts] };
}

/** The bounding box of what shows of a convex polygon through a clip, or null where nothing does. */
export function visibleBox(clip: Clip, shape: Polygon): Box | null {
  const visible = clip.convex.length === 0 ? [] : clipByConvex(shape, clip.convex);
  let box = boundingBox(visible);
  for (const outline of clip.dented) {
    if (box === null) return null;
    const through = outlineBox(outline, visible);
    box = through === null ? null : intersectBoxes(box, through);
  }
  return box;
}

/** The bounding box of an outline within a convex polygon. */
function outlineBox(outline: Outline, within: Polygon): Box | null {
  let box: Box | null = null;
  for (const part of outline) {
    const partBox = boundingBox(clipByConvex(part, within));
    if (partBox !== null) box = box === null ? partBox : uniteBoxes(box, partBox);
  }
  return box;
}
