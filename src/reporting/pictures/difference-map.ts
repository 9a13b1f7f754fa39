import { labFromSrgbBytes } from '../../comparing/index.ts';
import { SIGNAL_ON_MAP } from '../palette.ts';
import type { RgbPicture } from './rgb-picture.ts';
import { fitTone } from './tone-fit.ts';

/** CIELAB distances between which the signal colour rises from nothing to full. */
const MAP_FROM = 5;
const MAP_TO = 25;

/**
 * The difference of two pictures to look at: the dummy as a faint grey ground, and over it the signal colour, the
 * stronger the further the colours lie apart. A shift of one pixel is no difference, so that resampling stays quiet.
 *
 * @param pair      two pictures of the same size
 * @param mode      `fitted`: a stretched or shifted tone of the whole is taken out first; `as-is`: it is not
 * @source CIE 15 (the 1976 colour difference); the ramp and the one pixel are common practice, no source
 */
export function differenceMap(
  pair: { readonly dummy: RgbPicture; readonly revision: RgbPicture },
  mode: 'fitted' | 'as-is',
): RgbPicture {
  const { dummy } = pair;
  const { width, height } = dummy;
  const one = labOf(dummy);
  const other = labOf(mode === 'fitted' ? fitTone(pair) : pair.revision);
  const rgb = new Uint8Array(width * height * 3);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const at = (y * width + x) * 3;
      const ground = 205 + 0.44 * (one[at] ?? 0);
      const apart = Math.max(
        leastApart(one, other, { x, y, width, height }),
        leastApart(other, one, { x, y, width, height }),
      );
      const strength = Math.min(1, Math.max(0, (apart - MAP_FROM) / (MAP_TO - MAP_FROM)));
      for (let channel = 0; channel < 3; channel += 1) {
        rgb[at + channel] = Math.round(ground + (SIGNAL_ON_MAP[channel as 0 | 1 | 2] - ground) * strength);
      }
    }
  }
  return { width, height, rgb };
}

interface At {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

function labOf({ rgb }: RgbPicture): Float32Array {
  const lab = new Float32Array(rgb.length);
  labFromSrgbBytes(rgb, lab);
  return lab;
}

/** How far a pixel of one picture lies from the nearest in colour among its place and the eight around in the other. */
function leastApart(one: Float32Array, other: Float32Array, { x, y, width, height }: At): number {
  const at = (y * width + x) * 3;
  const l = one[at] ?? 0;
  const a = one[at + 1] ?? 0;
  const b = one[at + 2] ?? 0;
  let least = Infinity;
  const right = Math.min(width - 1, x + 1);
  const bottom = Math.min(height - 1, y + 1);
  for (let v = Math.max(0, y - 1); v <= bottom; v += 1) {
    for (let u = Math.max(0, x - 1); u <= right; u += 1) {
      const to = (v * width + u) * 3;
      const square = (l - (other[to] ?? 0)) ** 2 + (a - (other[to + 1] ?? 0)) ** 2 + (b - (other[to + 2] ?? 0)) ** 2;
      if (square < least) least = square;
    }
  }
  return Math.sqrt(least);
}
