import type { PageRaster } from '../../model/index.ts';

/** Type may sit this far off (rounding of outlines) without having changed. */
const REACH_PX = 2;
/** What blurring, shifting and summing need around a place. */
export const MARGIN_PX = REACH_PX + 3;

/** Levels of a place and of a margin of `MARGIN_PX` around it, row by row. */
export interface InkPlane {
  readonly width: number;
  readonly height: number;
  readonly levels: Float32Array;
}

/** Where a place of the revision lies against the dummy, in pixels. */
export interface InkShift {
  readonly x: number;
  readonly y: number;
}

/** Everything stands where it stood. */
export const STILL: InkShift = { x: 0, y: 0 };

/** A rectangle of cells of an `InkPlane`. */
export interface InkWindow {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Luma of a rectangle of a raster, 0 black to 255 paper; all of it must lie on the raster. */
export function cutInk({ width: stride, rgb }: PageRaster, { left, top, right, bottom }: InkWindow): InkPlane {
  const [width, height] = [right - left, bottom - top];
  const levels = new Float32Array(width * height);
  let to = 0;
  for (let y = top; y < bottom; y++) {
    for (let at = (y * stride + left) * 3, end = at + width * 3; at < end; at += 3) {
      levels[to++] = 0.2126 * rgb[at]! + 0.7152 * rgb[at + 1]! + 0.0722 * rgb[at + 2]!;
    }
  }
  return { width, height, levels };
}

/** A light blur (1 2 1 both ways): what remains looks nearly the same at every phase of the pixel grid. */
export function softenInk({ width, height, levels }: InkPlane): InkPlane {
  const across = new Float32Array(levels.length);
  const out = new Float32Array(levels.length);
  for (let y = 0; y < height; y++) {
    const row = y * width;
    for (let x = 0; x < width; x++) {
      const before = levels[row + Math.max(0, x - 1)]!;
      const after = levels[row + Math.min(width - 1, x + 1)]!;
      across[row + x] = (before + 2 * levels[row + x]! + after) / 4;
    }
  }
  for (let y = 0; y < height; y++) {
    const row = y * width;
    const above = Math.max(0, y - 1) * width;
    const under = Math.min(height - 1, y + 1) * width;
    for (let x = 0; x < width; x++) {
      out[row + x] = (across[above + x]! + 2 * across[row + x]! + across[under + x]!) / 4;
    }
  }
  return { width, height, levels: out };
}

/** The same place of both pages. */
export interface InkPair {
  readonly one: InkPlane;
  readonly other: InkPlane;
}

/** Two places laid over each other: the levels of both in a window, row by row. */
export interface Overlay {
  readonly one: Float32Array;
  readonly other: Float32Array;
}

/** Lays two planes over each other. Each is moved by half of the shift, so that both lose the same sharpness. */
export function layOver({ one, other }: InkPair, window: InkWindow, { x, y }: InkShift): Overlay {
  return { one: sample(one, window, -x / 2, -y / 2), other: sample(other, window, x / 2, y / 2) };
}

function sample({ width: stride, levels }: InkPlane, window: InkWindow, x: number, y: number): Float32Array {
  const [right, down] = [Math.floor(x), Math.floor(y)];
  const [p, q] = [x - right, y - down];
  const out = new Float32Array((window.right - window.left) * (window.bottom - window.top));
  let to = 0;
  for (let row = window.top; row < window.bottom; row++) {
    let at = (row + down) * stride + window.left + right;
    if (p === 0 && q === 0) {
      out.set(levels.subarray(at, at + window.right - window.left), to);
      to += window.right - window.left;
      continue;
    }
    for (let column = window.left; column < window.right; column++, at++) {
      out[to++] =
        (1 - q) * ((1 - p) * levels[at]! + p * levels[at + 1]!) +
        q * ((1 - p) * levels[at + stride]! + p * levels[at + stride + 1]!);
    }
  }
  return out;
}

/** Tones of one place fitted to another: a tone of the first becomes `gain` times it plus `offset`. */
export interface ToneFit {
  readonly gain: number;
  readonly offset: number;
  /** What is left, as a sum of squares. */
  readonly energy: number;
}

/** Least squares of the levels of the other place on the first. */
export function fitTones({ one, other }: Overlay): ToneFit {
  const n = one.length;
  let [sx, sy, sxx, syy, sxy] = [0, 0, 0, 0, 0];
  for (let i = 0; i < n; i++) {
    const x = one[i]!;
    const y = other[i]!;
    sx += x;
    sy += y;
    sxx += x * x;
    syy += y * y;
    sxy += x * y;
  }
  const vx = n * sxx - sx * sx;
  // gain is bounded: type that vanished must not be explained as type that turned pale
  const gain = vx > 0 ? Math.max(0.6, Math.min(1.4, (n * sxy - sx * sy) / vx)) : 1;
  const offset = (sy - gain * sx) / n;
  const energy =
    syy + gain * gain * sxx + n * offset * offset - 2 * gain * sxy - 2 * offset * sy + 2 * gain * offset * sx;
  return { gain, offset, energy };
}

/** The shift within reach at which least is left, an eighth of a pixel fine: one axis after the other, in ever smaller steps. */
export function bestShift(pair: InkPair, window: InkWindow): InkShift {
  let best = { energy: Infinity, x: 0, y: 0 };
  const consider = (x: number, y: number): void => {
    if (Math.abs(x) > REACH_PX || Math.abs(y) > REACH_PX) return;
    const { energy } = fitTones(layOver(pair, window, { x, y }));
    if (energy < best.energy - 1e-6) best = { energy, x, y };
  };
  consider(0, 0);
  for (const step of [1, 1, 0.5, 0.25, 0.125]) {
    const { x } = best;
    consider(x - step, best.y);
    consider(x + step, best.y);
    const { y } = best;
    consider(best.x, y - step);
    consider(best.x, y + step);
  }
  return best;
}
