import { createCanvas, GlobalFonts } from '@napi-rs/canvas';
import { fileURLToPath } from 'node:url';
import type { Box, PageRaster } from '../../../src/model/index.ts';
import { mmFromPx, PT_PER_INCH } from '../../../src/model/index.ts';

const FILES = {
  sans: 'pdfjs-dist/standard_fonts/LiberationSans-Regular.ttf',
  serif: '@fontsource/source-serif-4/files/source-serif-4-latin-400-normal.woff',
  light: '@fontsource/source-serif-4/files/source-serif-4-latin-200-normal.woff',
};
/** Faces with true outlines. */
export type Face = keyof typeof FILES;
for (const [face, file] of Object.entries(FILES)) {
  GlobalFonts.registerFromPath(
    fileURLToPath(new URL(`../../../node_modules/${file}`, import.meta.url)),
    `true ${face}`,
  );
}

const LETTERS_PPI = 250;
/** Each pixel is the mean of so many times so many: any phase of the grid in eighths is exact. */
const PARTS = 8;
const MARGIN = 14;

/** A word drawn as outlines, to be looked at in every phase of the pixel grid. */
export interface TrueLetters {
  /** The word, moved by eighths of a pixel to the right and down. */
  at(right: number, down: number): PageRaster;
  /** Around the word, mm. */
  readonly box: Box;
}

/** Draws a word in black on white, eight times finer than it will be looked at. */
export function drawLetters(text: string, sizePt: number, face: Face): TrueLetters {
  const em = (sizePt * LETTERS_PPI) / PT_PER_INCH;
  const width = Math.ceil(0.8 * em * text.length) + 2 * MARGIN;
  const height = Math.ceil(1.6 * em) + 2 * MARGIN;
  const canvas = createCanvas((width + 1) * PARTS, (height + 1) * PARTS);
  const context = canvas.getContext('2d');
  context.fillStyle = 'white';
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.fillStyle = 'black';
  // so large a size is drawn as outlines, and not as glyphs that snap to the grid
  context.translate((MARGIN + 1) * PARTS, Math.round((MARGIN + 1 + 1.15 * em) * PARTS));
  context.scale((em * PARTS) / 1000, (em * PARTS) / 1000);
  context.font = `1000px "true ${face}"`;
  context.fillText(text, 0, 0);
  const [columns, rows] = [(width + 1) * PARTS, (height + 1) * PARTS];
  const fine = context.getImageData(0, 0, columns, rows).data;
  const stride = columns + 1;
  const sums = new Float64Array(stride * (rows + 1));
  for (let y = 0; y < rows; y++) {
    let row = 0;
    for (let x = 0; x < columns; x++) {
      row += fine[(y * columns + x) * 4]!;
      sums[(y + 1) * stride + x + 1] = sums[y * stride + x + 1]! + row;
    }
  }
  const meanFrom = (x: number, y: number): number =>
    (sums[(y + PARTS) * stride + x + PARTS]! -
      sums[y * stride + x + PARTS]! -
      sums[(y + PARTS) * stride + x]! +
      sums[y * stride + x]!) /
    PARTS ** 2;
  return {
    at(right, down) {
      const rgb = new Uint8Array(width * height * 3);
      for (let y = 0, to = 0; y < height; y++) {
        for (let x = 0; x < width; x++, to += 3) {
          rgb[to] = Math.round(meanFrom((x + 1) * PARTS - right, (y + 1) * PARTS - down));
          rgb[to + 1] = rgb[to + 2] = rgb[to]!;
        }
      }
      return { width, height, ppi: LETTERS_PPI, rgb };
    },
    box: {
      x: mmFromPx(8, LETTERS_PPI),
      y: mmFromPx(8, LETTERS_PPI),
      width: mmFromPx(width - 16, LETTERS_PPI),
      height: mmFromPx(height - 16, LETTERS_PPI),
    },
  };
}

/** The 64 phases of the grid in eighths of a pixel, or every so manieth of them. */
export function phases(every = 1): readonly (readonly [number, number])[] {
  return Array.from({ length: PARTS ** 2 }, (_, at) => [at % PARTS, (at / PARTS) | 0] as const).filter(
    (_, at) => at % every === 0,
  );
}
