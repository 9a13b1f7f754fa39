import type { Box } from '../../src/model/index.ts';
import type { PictureItem } from './spec.ts';

/**
 * A picture in a frame without distortion.
 *
 * @param middle  where in the source the middle of the frame lies, in fractions
 * @param zoom  how much of the source's limiting side shows: 1 as much as fits
 * @param sourceAspect  width over height of the source
 */
export function fillFrame(
  source: string,
  frame: Box,
  middle: { x: number; y: number },
  zoom: number,
  sourceAspect: number,
): PictureItem {
  const aspect = frame.width / frame.height / sourceAspect;
  const width = zoom * Math.min(1, aspect);
  const height = zoom * Math.min(1, 1 / aspect);
  const within = (at: number, size: number): number => Math.min(1 - size, Math.max(0, at - size / 2));
  return {
    kind: 'picture',
    source,
    frame,
    crop: { x: within(middle.x, width), y: within(middle.y, height), width, height },
  };
}
