import type { PageRaster } from '../../model/index.ts';
import type { InkTones } from './ink-tones.ts';

/**
 * A page that shows the plate of one ink, drawn in greys, as ink: what is dark is printed.
 *
 * @source ITU-R BT.601-7 (2011) 2.5.1
 */
export function plateFromPage({ width, height, rgb }: PageRaster): InkTones {
  const data = new Uint8Array(width * height);
  for (let at = 0, from = 0; at < data.length; at++, from += 3) {
    data[at] = 255 - ((rgb[from]! * 77 + rgb[from + 1]! * 150 + rgb[from + 2]! * 29) >> 8);
  }
  return { width, height, data };
}
