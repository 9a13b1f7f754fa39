import type { Word } from '../../model/index.ts';
import { pxFromMm } from '../../model/index.ts';
import type { PageSide } from '../page-sides.ts';

/** Levels of one colour channel over which type must reach to be seen at all. */
const SEEN = 10;

/**
 * Words of which something shows; type in the colour of its paper or under a picture says nothing. Each channel is looked at
 * for itself: tinted paper is even, though its channels differ, and yellow type shows in the blue alone.
 */
export function keepVisible(words: readonly Word[], { raster }: PageSide): readonly Word[] {
  const { ppi, width, height, rgb } = raster;
  return words.filter(({ box }) => {
    const left = Math.max(0, Math.floor(pxFromMm(box.x, ppi)));
    const top = Math.max(0, Math.floor(pxFromMm(box.y, ppi)));
    const right = Math.min(width, Math.ceil(pxFromMm(box.x + box.width, ppi)));
    const bottom = Math.min(height, Math.ceil(pxFromMm(box.y + box.height, ppi)));
    for (let channel = 0; channel < 3; channel++) {
      let [least, most] = [255, 0];
      for (let y = top; y < bottom; y++) {
        for (let at = (y * width + left) * 3 + channel; at < (y * width + right) * 3; at += 3) {
          if (rgb[at]! < least) least = rgb[at]!;
          if (rgb[at]! > most) most = rgb[at]!;
        }
      }
      if (most - least > SEEN) return true;
    }
    return false;
  });
}
