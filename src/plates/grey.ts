import type { Box, PageRaster } from '../model/index.ts';
import type { CellTurn } from './plan.ts';

/** A sheet or a page in greys, 0 black to 255 paper, row by row from the top left. */
export interface Grey {
  readonly width: number;
  readonly height: number;
  readonly pxPerMm: number;
  readonly data: Uint8Array;
}

const MM_PER_INCH = 25.4;

/** A raster in greys. @source ITU-R BT.601-7 (2011) 2.5.1 */
export function greyOf({ width, height, ppi, rgb }: PageRaster): Grey {
  const data = new Uint8Array(width * height);
  for (let at = 0, from = 0; at < data.length; at++, from += 3) {
    data[at] = (rgb[from]! * 77 + rgb[from + 1]! * 150 + rgb[from + 2]! * 29) >> 8;
  }
  return { width, height, pxPerMm: ppi / MM_PER_INCH, data };
}

/** The same at half the resolution, each pixel the mean of four; an odd last row or column is dropped. */
export function halveGrey({ width, height, pxPerMm, data }: Grey): Grey {
  const half = { width: width >> 1, height: height >> 1 };
  const out = new Uint8Array(half.width * half.height);
  for (let y = 0; y < half.height; y++) {
    for (let x = 0; x < half.width; x++) {
      const at = 2 * y * width + 2 * x;
      out[y * half.width + x] = (data[at]! + data[at + 1]! + data[at + width]! + data[at + width + 1]! + 2) >> 2;
    }
  }
  return { ...half, pxPerMm: pxPerMm / 2, data: out };
}

/** Softened by 1 2 1 both ways, so that sharp type no longer draws a measured place to whole pixels; edges stay. */
export function softened({ width, height, pxPerMm, data }: Grey): Grey {
  const across = Uint8Array.from(data);
  for (let y = 0; y < height; y++) {
    for (let at = y * width + 1; at < (y + 1) * width - 1; at++) {
      across[at] = (data[at - 1]! + 2 * data[at]! + data[at + 1]! + 2) >> 2;
    }
  }
  const out = Uint8Array.from(across);
  for (let at = width; at < (height - 1) * width; at++) {
    out[at] = (across[at - width]! + 2 * across[at]! + across[at + width]! + 2) >> 2;
  }
  return { width, height, pxPerMm, data: out };
}

/** A part of a sheet as the page that stands there would be read; what lies outside the sheet is paper. */
export function uprightPart(sheet: Grey, part: PixelPart, turnDeg: CellTurn): Grey {
  const lying = turnDeg === 90 || turnDeg === 270;
  const width = lying ? part.height : part.width;
  const height = lying ? part.width : part.height;
  const data = new Uint8Array(width * height).fill(255);
  for (let y = 0; y < height; y++) {
    // along a row of the page the sheet is walked over evenly
    const [ownX, ownY] = onSheet(0, y, part, turnDeg);
    const [nextX, nextY] = onSheet(1, y, part, turnDeg);
    const [alongX, alongY] = [nextX - ownX, nextY - ownY];
    const [sheetX, sheetY] = [part.left + ownX, part.top + ownY];
    const [fromX, endX] = within(sheetX, alongX, sheet.width, width);
    const [fromY, endY] = within(sheetY, alongY, sheet.height, width);
    const step = alongY * sheet.width + alongX;
    const first = sheetY * sheet.width + sheetX;
    copyRow(sheet.data, first, step, data, y * width, Math.max(fromX, fromY), Math.min(endX, endY));
  }
  return { width, height, pxPerMm: sheet.pxPerMm, data };
}

/** From which to before which step a walk lies on the sheet, along one of its sides. */
function within(at: number, step: number, length: number, steps: number): readonly [number, number] {
  if (step === 0) return at >= 0 && at < length ? [0, steps] : [0, 0];
  return step > 0
    ? [Math.max(0, -at), Math.min(steps, length - at)]
    : [Math.max(0, at - length + 1), Math.min(steps, at + 1)];
}

/** A function of its own, so that its loop is compiled and stays so. */
function copyRow(
  from: Uint8Array,
  first: number,
  step: number,
  to: Uint8Array,
  row: number,
  start: number,
  end: number,
): void {
  for (let x = start, at = first + start * step; x < end; x++, at += step) to[row + x] = from[at]!;
}

/** Whole pixels of a sheet; may reach over its edges. */
export interface PixelPart {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** The pixels of a box, rounded to whole ones. */
export function pixelPart({ x, y, width, height }: Box, pxPerMm: number): PixelPart {
  return {
    left: Math.round(x * pxPerMm),
    top: Math.round(y * pxPerMm),
    width: Math.max(1, Math.round(width * pxPerMm)),
    height: Math.max(1, Math.round(height * pxPerMm)),
  };
}

function onSheet(x: number, y: number, { width, height }: PixelPart, turnDeg: CellTurn): readonly [number, number] {
  switch (turnDeg) {
    case 0:
      return [x, y];
    case 90:
      return [width - 1 - y, x];
    case 180:
      return [width - 1 - x, height - 1 - y];
    case 270:
      return [y, height - 1 - x];
  }
}

/** Means over a grid of cells laid over a part of the sheet, less their mean and scaled to length 1; null where even. */
export function thumbnail(grey: Grey, columns: number, rows: number): Float32Array | null {
  const { width, height, data } = grey;
  const cells = new Float32Array(columns * rows);
  for (let row = 0; row < rows; row++) {
    const [top, bottom] = [Math.floor((row * height) / rows), Math.floor(((row + 1) * height) / rows)];
    for (let column = 0; column < columns; column++) {
      const [left, right] = [Math.floor((column * width) / columns), Math.floor(((column + 1) * width) / columns)];
      let sum = 0;
      for (let y = top; y < bottom; y++) for (let x = left; x < right; x++) sum += data[y * width + x]!;
      cells[row * columns + column] = sum / Math.max(1, (bottom - top) * (right - left));
    }
  }
  const mean = cells.reduce((sum, value) => sum + value, 0) / cells.length;
  let square = 0;
  cells.forEach((value, index) => {
    cells[index] = value - mean;
    square += (value - mean) ** 2;
  });
  // a spread of under half a level is noise of the paper
  if (square < cells.length / 4) return null;
  const norm = Math.sqrt(square);
  return cells.map((value) => value / norm);
}
