import type { PageRaster } from '../../../src/model/index.ts';

/** The mean of squares of pixels: what a page of a resolution that many times lower can show at best. */
export function averagedDown(raster: PageRaster, factor: number): PageRaster {
  const { width: across, height: down, ppi, rgb: fine } = raster;
  const [width, height] = [across / factor, down / factor];
  const rgb = new Uint8Array(width * height * 3);
  for (let at = 0; at < rgb.length; at++) {
    const [channel, x, y] = [at % 3, Math.floor(at / 3) % width, Math.floor(at / 3 / width)];
    let sum = 0;
    for (let v = y * factor; v < (y + 1) * factor; v++) {
      for (let u = x * factor; u < (x + 1) * factor; u++) sum += fine[(v * across + u) * 3 + channel]!;
    }
    rgb[at] = Math.round(sum / factor ** 2);
  }
  return { width, height, ppi: ppi / factor, rgb };
}
