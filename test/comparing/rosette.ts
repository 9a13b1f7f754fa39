import type { PageRaster } from '../../src/model/index.ts';

/** A plate of a photo book: pixels and rows of dots an inch. Common practice, no source. */
export const PLATE_PPI = 1200;
const RULING_LPI = 150;
/** The usual angles of cyan, magenta, yellow and black. Common practice, no source. */
const ANGLES_DEG = [15, 75, 0, 45];
/** So much of the grey in a colour is printed with black. */
const BLACK_SHARE = 0.6;

/** Heights of a round dot's waves, from deepest to highest: the share of them over a height is the dot's area. */
const HEIGHTS = Float64Array.from({ length: 256 * 256 }, (_, at) => {
  const [x, y] = [((at & 255) + 0.5) / 256, ((at >> 8) + 0.5) / 256];
  return Math.cos(2 * Math.PI * x) + Math.cos(2 * Math.PI * y);
}).sort();

/**
 * A page as its four plates of one bit print it, each ink in dots at its angle, seen by so many pixels of the plates taken
 * together.
 *
 * @param page  at the plates' resolution
 * @param times  pixels of the plates to one of the result, both ways
 */
export function printedInRosettes(
  { width, height, ppi, rgb }: PageRaster,
  times: number,
  rulingLpi = RULING_LPI,
): PageRaster {
  const wave = (2 * Math.PI * rulingLpi) / ppi;
  const turns = ANGLES_DEG.map((deg) => [
    Math.cos((deg * Math.PI) / 180) * wave,
    Math.sin((deg * Math.PI) / 180) * wave,
  ]);
  const [columns, rows] = [Math.floor(width / times), Math.floor(height / times)];
  const inks = new Float32Array(columns * rows * 4);
  for (let y = 0; y < rows * times; y++) {
    for (let x = 0; x < columns * times; x++) {
      const at = (y * width + x) * 3;
      const to = (Math.floor(y / times) * columns + Math.floor(x / times)) * 4;
      const black = (BLACK_SHARE * (255 - Math.max(rgb[at]!, rgb[at + 1]!, rgb[at + 2]!))) / 255;
      for (let ink = 0; ink < 4; ink++) {
        const tone = ink === 3 ? black : 1 - rgb[at + ink]! / 255 / (1 - black);
        const [u, v] = turns[ink] as [number, number];
        const heightHere = Math.cos(x * u + y * v) + Math.cos(y * u - x * v);
        const least = HEIGHTS[Math.min(HEIGHTS.length - 1, Math.floor((1 - tone) * HEIGHTS.length))]!;
        if (tone > 0 && heightHere >= least) inks[to + ink]! += 1 / times ** 2;
      }
    }
  }
  const printed = Uint8Array.from({ length: columns * rows * 3 }, (_, at) => {
    const cell = Math.floor(at / 3) * 4;
    return Math.round(255 * (1 - inks[cell + (at % 3)]!) * (1 - inks[cell + 3]!));
  });
  return { width: columns, height: rows, ppi: ppi / times, rgb: printed };
}
