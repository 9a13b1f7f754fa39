import { useEffect, useState } from 'react';

/** The pixels of a picture, as the browser shows them: 4 bytes each, red, green, blue and cover. */
export interface Samples {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray;
}

/** A picture's pixels, as soon as they are there. */
export function useSamples(source: string): Samples | null {
  const [samples, setSamples] = useState<{ readonly source: string; readonly of: Samples } | null>(null);
  useEffect(() => {
    let isWanted = true;
    const image = new Image();
    image.src = source;
    void image
      .decode()
      .then(() => {
        const { naturalWidth: width, naturalHeight: height } = image;
        const canvas = document.createElement('canvas');
        Object.assign(canvas, { width, height });
        const drawing = canvas.getContext('2d', { willReadFrequently: true });
        if (drawing === null || !isWanted) return;
        drawing.drawImage(image, 0, 0);
        setSamples({ source, of: { width, height, data: drawing.getImageData(0, 0, width, height).data } });
      })
      .catch(() => undefined);
    return () => {
      isWanted = false;
    };
  }, [source]);
  return samples?.source === source ? samples.of : null;
}

/** The mean colour of a small square of a picture: red, green, blue, 0 to 255. */
export function colourAt(
  { width, height, data }: Samples,
  x: number,
  y: number,
  reach: number,
): readonly [number, number, number] | null {
  const [left, top] = [Math.floor(x) - reach, Math.floor(y) - reach];
  const sum = [0, 0, 0];
  let count = 0;
  for (let row = Math.max(0, top); row <= Math.min(height - 1, top + 2 * reach); row++) {
    for (let column = Math.max(0, left); column <= Math.min(width - 1, left + 2 * reach); column++) {
      const at = (row * width + column) * 4;
      for (let channel = 0; channel < 3; channel++) sum[channel] = (sum[channel] ?? 0) + (data[at + channel] ?? 0);
      count++;
    }
  }
  if (count === 0) return null;
  const [red = 0, green = 0, blue = 0] = sum;
  return [red / count, green / count, blue / count];
}
