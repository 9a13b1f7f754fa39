import { describe, expect, it } from 'vitest';
import { loadCanvas, loadFonts } from '../../../src/reading/raster/canvas.ts';

describe('a font that a file names but does not have', () => {
  it("is drawn in the renderer's own, whatever fonts the machine has", async () => {
    const { createCanvas } = await loadCanvas();
    await loadFonts();
    const context = createCanvas(10, 10).getContext('2d');
    const widthIn = (font: string) => {
      context.font = font;
      return context.measureText('Illustrations, WAVES and 1234').width;
    };
    for (const style of ['', 'bold ', 'italic ', 'italic bold ']) {
      const own = widthIn(`${style}40px "Liberation Sans"`);
      const fallbacks = ['monospace', 'serif', 'sans-serif'].map((family) =>
        widthIn(`${style}40px g_d0_f1, ${family}`),
      );
      expect(fallbacks).toEqual([own, own, own]);
    }
  });
});
