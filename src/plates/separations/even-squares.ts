import type { Grey } from '../grey.ts';

/** Where dots can be told apart: neither paper nor solid, in levels of 255. */
const TONE = { least: 18, most: 215 };
/** Standard deviation under which a part is even: type and edges have far more. */
const EVEN = 36;

/** The tones of a coarse screen still show its dots: so many pixels a side are taken together where nothing else is even. */
const BLOCK = 8;
/** Lines of type are uneven by far more than this also when taken together. */
const EVEN_BLOCKS = 8;

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
  const found = evenAmong(plate, share, most, EVEN);
  return found.length > 0 ? found : evenAmong(blocksOf(plate), share, most, EVEN_BLOCKS);
}

function blocksOf({ width, height, data }: Pick<Grey, 'width' | 'height' | 'data'>) {
  const [across, down] = [Math.floor(width / BLOCK), Math.floor(height / BLOCK)];
  const blocks = new Uint8Array(across * down);
  for (let y = 0; y < down; y++) {
    for (let x = 0; x < across; x++) {
      let sum = 0;
      for (let row = y * BLOCK; row < (y + 1) * BLOCK; row++) {
        for (let at = row * width + x * BLOCK, end = at + BLOCK; at < end; at++) sum += data[at]!;
      }
      blocks[y * across + x] = sum / (BLOCK * BLOCK);
    }
  }
  return { width: across, height: down, data: blocks };
}

function evenAmong(
  { width, height, data }: Pick<Grey, 'width' | 'height' | 'data'>,
  share: { readonly x: number; readonly y: number },
  most: number,
  even: number,
): readonly SquarePlace[] {
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
      if (mean < TONE.least || mean > TONE.most || spread > even) continue;
      places.push({ x: left / width, y: top / height });
      break;
    }
  }
  return places;
}
