import type { SourceImage } from './library.ts';

type Colour = readonly [number, number, number];

// The dyes of the lantern painter, from shadow to light: earth below, a cold sky above.
const EARTH: readonly Colour[] = [
  [22, 20, 26],
  [74, 58, 42],
  [150, 118, 72],
  [214, 186, 136],
  [250, 240, 218],
];
const SKY: readonly Colour[] = [
  [20, 26, 44],
  [42, 74, 104],
  [96, 142, 168],
  [178, 206, 212],
  [248, 236, 214],
];

/** A photograph coloured as glass plates were: thin dyes over the silver, the sky's fading into the earth's. */
export function handColour(image: SourceImage): SourceImage {
  const rgb = Buffer.alloc(image.rgb.length);
  for (let y = 0; y < image.height; y += 1) {
    const sky = 1 / (1 + Math.exp((y / image.height - 0.46) * 16));
    for (let x = 0; x < image.width; x += 1) {
      const at = (y * image.width + x) * 3;
      const light =
        (0.2126 * (image.rgb[at] ?? 0) + 0.7152 * (image.rgb[at + 1] ?? 0) + 0.0722 * (image.rgb[at + 2] ?? 0)) / 255;
      const below = dye(EARTH, light);
      const above = dye(SKY, light);
      for (let c = 0; c < 3; c += 1) rgb[at + c] = Math.round((above[c] ?? 0) * sky + (below[c] ?? 0) * (1 - sky));
    }
  }
  return { width: image.width, height: image.height, rgb };
}

function dye(steps: readonly Colour[], light: number): Colour {
  const place = Math.min(steps.length - 1.001, light * (steps.length - 1));
  const step = Math.floor(place);
  const [from, to] = [steps[step], steps[step + 1]];
  if (from === undefined || to === undefined) throw new Error('light outside 0 to 1');
  const part = place - step;
  return [0, 1, 2].map((c) => (from[c] ?? 0) * (1 - part) + (to[c] ?? 0) * part) as unknown as Colour;
}
