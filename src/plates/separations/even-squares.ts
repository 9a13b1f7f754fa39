import type { Grey } from '../grey.ts';

/** Where dots can be told apart: neither paper nor solid, in levels of 255. */
const TONE = { least: 18, most: 215 };
/** Standard deviation under which a part is even: type and edges have far more. */
const EVEN = 36;

/** A square's top left corner, as shares of the plate's width and height. */
export interface SquarePlace {
  readonly x: number;
  readonly y: number;
}

/**
 * Places of a plate with an even tone, by which its screen can be told: the topmost first, since plates are read from the
 * top.
 *
 * @param plate  ink as brightness, 0 none to 255 full
 * @param share  side of the squares as shares of the plate's width and height
 * @param most  so many places at most, each well below the one before
 */
export function evenSquares(
  plate: Pick<Grey, 'width' | 'height' | 'data'>,
  share: { readonly x: number; readonly y: number },
  most: number,
): readonly SquarePlace[] {
  const { width, height, data } = plate;
  const across = Math.max(2, Math.floor(share.x * width));
  const down = Math.max(2, Math.floor(share.y * height));
  const places: SquarePlace[] = [];
  for (let top = 0; top + down < height && places.length < most; top += down) {
    for (let left = 0; left + across < width; left += across) {
      let [sum, square] = [0, 0];
      for (let y = top; y < top + down; y++) {
        for (let at = y * width + left, end = at + across; at < end; at++) {
          sum += data[at]!;
          square += data[at]! ** 2;
        }
      }
      const mean = sum / (across * down);
      const spread = Math.sqrt(Math.max(0, square / (across * down) - mean * mean));
      if (mean < TONE.least || mean > TONE.most || spread > EVEN) continue;
      places.push({ x: left / width, y: top / height });
      break;
    }
  }
  return places;
}
