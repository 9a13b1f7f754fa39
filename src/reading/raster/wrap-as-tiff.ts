import { tiffFile } from '../tiff-file.ts';
import type { SampleLayout } from './picture-kind.ts';

/**
 * An uncompressed TIFF file around samples, because the picture library takes CMYK samples in no other form.
 *
 * @param samples  at least width times height times channels bytes, row by row from the top left
 * @source TIFF 6.0 part 1 (baseline) and section 16 (CMYK, InkSet left at its default)
 */
export function wrapAsTiff(samples: Uint8Array, { pixelWidth, pixelHeight, channels }: SampleLayout): Buffer {
  const bytes = pixelWidth * pixelHeight * channels;
  const photometric = channels === 4 ? 5 : channels === 3 ? 2 : 1;
  return tiffFile(
    [samples.subarray(0, bytes)],
    [
      [256, 'long', pixelWidth],
      [257, 'long', pixelHeight],
      [258, 'short', ...Array.from({ length: channels }, () => 8)],
      [259, 'short', 1],
      [262, 'short', photometric],
      [277, 'short', channels],
      [278, 'long', pixelHeight],
      [279, 'long', bytes],
      [284, 'short', 1],
    ],
  );
}
