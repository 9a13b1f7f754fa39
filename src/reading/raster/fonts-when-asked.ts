import type { Canvas, SKRSContext2D } from '@napi-rs/canvas';
import { loadCanvas, loadFonts } from './canvas.ts';

let areLoaded = false;
let timesAsked = 0;

const NO_TEXT = {
  fillText: () => void timesAsked++,
  strokeText: () => void timesAsked++,
  measureText: () => {
    timesAsked++;
    return { width: 0 };
  },
};

/**
 * Draws without fonts, which take as long to load as some pages take to draw: nearly all type comes as outlines from the
 * file's own fonts. Where the canvas was asked to set text itself, fonts are loaded and all is drawn once more.
 *
 * @param draw  on canvases of `canvasFactory` alone
 */
export async function drawWithFontsWhenAsked<T>(draw: () => Promise<T>): Promise<T> {
  if (areLoaded) return draw();
  const before = timesAsked;
  const drawn = await draw();
  if (timesAsked === before) return drawn;
  await loadFonts();
  areLoaded = true;
  return draw();
}

/** A canvas whose context sets no text until fonts are loaded, but remembers that it was asked to. */
export async function createCanvasForPage(width: number, height: number): Promise<Canvas> {
  const { createCanvas } = await loadCanvas();
  return withoutText(createCanvas(width, height));
}

/** The one context that a canvas has; also a font that is named only would have all fonts loaded. */
function withoutText(canvas: Canvas): Canvas {
  if (areLoaded) return canvas;
  const context: SKRSContext2D = canvas.getContext('2d');
  Object.defineProperty(context, 'font', { value: '', writable: true });
  Object.assign(context, NO_TEXT);
  return canvas;
}

/** What the renderer asks of the canvases that it draws groups, masks and patterns on. */
interface DrawnOn {
  canvas: Canvas | null;
  context: SKRSContext2D | null;
}

/** Makes the renderer's canvases, without text until it is asked for. */
export async function canvasFactory() {
  const { createCanvas } = await loadCanvas();
  return class {
    create(width: number, height: number): DrawnOn {
      if (!(width > 0 && height > 0)) throw new Error(`a canvas of ${width} by ${height} pixels`);
      const canvas = withoutText(createCanvas(width, height));
      return { canvas, context: canvas.getContext('2d') };
    }
    reset({ canvas }: DrawnOn, width: number, height: number): void {
      Object.assign(canvas!, { width, height });
    }
    destroy(drawnOn: DrawnOn): void {
      Object.assign(drawnOn.canvas!, { width: 0, height: 0 });
      Object.assign(drawnOn, { canvas: null, context: null });
    }
    getNoAlphaContext(canvas: Canvas): SKRSContext2D {
      return canvas.getContext('2d', { alpha: false });
    }
  };
}
