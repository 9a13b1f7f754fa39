import type { Box, PageRaster } from '../../model/index.ts';
import { pxFromMm } from '../../model/index.ts';
import { findPatches, STRONG } from '../regions/connected.ts';

/** Ink that came or went differs by so much of the contrast of the type from all that lies near. */
const OF_THE_CONTRAST = 0.25;
/** A full stop of 6 pt type has about 0.08 mm², of which the rim may lie near other ink. */
const LEAST_MM2 = 0.03;
/** Type may sit this far off (rounding of outlines) without having changed. */
const REACH_PX = 2;

/**
 * Whether type drawn on two rasters differs in its shapes: a letter, an accent, a stroke. Laid over each other at the best
 * small shift, tone fitted, and what remains must be a blot of visible size.
 *
 * @param box  around the type on both pages; rasters of equal, fine resolution
 */
export function inkDiffers(
  { dummy, revision }: { readonly dummy: PageRaster; readonly revision: PageRaster },
  box: Box,
): boolean {
  const { ppi } = dummy;
  const left = Math.max(REACH_PX + 1, Math.floor(pxFromMm(box.x, ppi)));
  const top = Math.max(REACH_PX + 1, Math.floor(pxFromMm(box.y, ppi)));
  const right = Math.min(
    Math.min(dummy.width, revision.width) - REACH_PX - 2,
    Math.ceil(pxFromMm(box.x + box.width, ppi)),
  );
  const bottom = Math.min(
    Math.min(dummy.height, revision.height) - REACH_PX - 2,
    Math.ceil(pxFromMm(box.y + box.height, ppi)),
  );
  const width = right - left;
  const height = bottom - top;
  if (width < 2 || height < 2) return false;
  const one = cut(dummy, left, top, width, height);
  const wide = cut(
    revision,
    left - REACH_PX - 1,
    top - REACH_PX - 1,
    width + 2 * REACH_PX + 2,
    height + 2 * REACH_PX + 2,
  );
  const still = shifted(wide, width, height, 0, 0);
  // nearly all type stands exactly where it stood: the search for a small shift is for the rest
  if (!leavesBlot(one, { other: still, ...fit(one, still) }, width, height, ppi)) return false;
  return leavesBlot(one, bestOverlay(one, wide, width, height), width, height, ppi);
}

function leavesBlot(
  one: Float32Array,
  { other, gain, offset }: Overlay,
  width: number,
  height: number,
  ppi: number,
): boolean {
  const contrast = contrastOf(one, gain) || contrastOf(other, 1);
  if (contrast < 12) return false;
  const fitted = one.map((level) => gain * level + offset);
  const marks = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const at = y * width + x;
      if (Math.abs(fitted[at]! - other[at]!) <= OF_THE_CONTRAST * contrast) continue;
      const beyond = Math.max(
        beyondNeighbours(fitted[at]!, other, width, height, x, y),
        beyondNeighbours(other[at]!, fitted, width, height, x, y),
      );
      if (beyond > OF_THE_CONTRAST * contrast) marks[at] = STRONG;
    }
  }
  const pixelMm2 = (25.4 / ppi) ** 2;
  return findPatches(marks, width, height).some(({ cells }) => cells * pixelMm2 >= LEAST_MM2);
}

/** How far a level lies outside those of a place and its eight neighbours: outlines are rounded glyph by glyph. */
function beyondNeighbours(
  level: number,
  on: Float32Array,
  width: number,
  height: number,
  x: number,
  y: number,
): number {
  let [least, most] = [Infinity, -Infinity];
  for (let v = Math.max(0, y - 1); v <= Math.min(height - 1, y + 1); v++) {
    for (let u = Math.max(0, x - 1); u <= Math.min(width - 1, x + 1); u++) {
      const value = on[v * width + u]!;
      if (value < least) least = value;
      if (value > most) most = value;
    }
  }
  return level < least ? least - level : level > most ? level - most : 0;
}

function cut({ width, rgb }: PageRaster, left: number, top: number, columns: number, rows: number): Float32Array {
  const out = new Float32Array(columns * rows);
  for (let y = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++) {
      const at = ((top + y) * width + left + x) * 3;
      out[y * columns + x] = 0.2126 * (rgb[at] ?? 255) + 0.7152 * (rgb[at + 1] ?? 255) + 0.0722 * (rgb[at + 2] ?? 255);
    }
  }
  return out;
}

interface Overlay {
  readonly other: Float32Array;
  readonly gain: number;
  readonly offset: number;
}

function bestOverlay(one: Float32Array, wide: Float32Array, width: number, height: number): Overlay {
  let best = { energy: Infinity, x: 0, y: 0 };
  const consider = (x: number, y: number): void => {
    const { energy } = fit(one, shifted(wide, width, height, x, y));
    if (energy < best.energy - 1e-6) best = { energy, x, y };
  };
  consider(0, 0);
  for (let y = -REACH_PX; y <= REACH_PX; y++) for (let x = -REACH_PX; x <= REACH_PX; x++) consider(x, y);
  for (const step of [0.5, 0.25, 0.125]) {
    const { x, y } = best;
    for (const [dx, dy] of [
      [-1, 0],
      [1, 0],
      [0, -1],
      [0, 1],
      [-1, -1],
      [1, 1],
      [-1, 1],
      [1, -1],
    ] as const) {
      if (Math.abs(x + dx * step) <= REACH_PX && Math.abs(y + dy * step) <= REACH_PX)
        consider(x + dx * step, y + dy * step);
    }
  }
  const other = shifted(wide, width, height, best.x, best.y);
  return { other, ...fit(one, other) };
}

function shifted(wide: Float32Array, width: number, height: number, x: number, y: number): Float32Array {
  const stride = width + 2 * REACH_PX + 2;
  const u = x + REACH_PX + 1;
  const v = y + REACH_PX + 1;
  const [left, top] = [Math.floor(u), Math.floor(v)];
  const [p, q] = [u - left, v - top];
  const out = new Float32Array(width * height);
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      const at = (row + top) * stride + column + left;
      out[row * width + column] =
        (1 - q) * ((1 - p) * wide[at]! + p * (wide[at + 1] ?? 255)) +
        q * ((1 - p) * (wide[at + stride] ?? 255) + p * (wide[at + stride + 1] ?? 255));
    }
  }
  return out;
}

/** Least squares of `other` on `one`; the energy is what is left. */
function fit(one: Float32Array, other: Float32Array): { gain: number; offset: number; energy: number } {
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

function contrastOf(levels: Float32Array, gain: number): number {
  let [least, most] = [Infinity, -Infinity];
  for (const level of levels) {
    if (level < least) least = level;
    if (level > most) most = level;
  }
  return gain * (most - least);
}
