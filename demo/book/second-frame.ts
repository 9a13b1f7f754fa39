import type { SourceImage } from './library.ts';

/**
 * The same scene as if a breath later: the camera has sunk by a few pixels and closed in a little, the lower third has
 * drifted sideways, and a figure has gone.
 */
export function secondFrame(image: SourceImage): SourceImage {
  const { width, height } = image;
  const rgb = Buffer.alloc(image.rgb.length);
  for (let y = 0; y < height; y += 1) {
    const v = y / height;
    const drift = v > 0.62 ? 9 * Math.min(1, (v - 0.62) / 0.12) + 1.5 * Math.sin(v * 90) : 0;
    for (let x = 0; x < width; x += 1) {
      const fromX = width / 2 + (x - width / 2) / 1.012 + 4 - drift;
      const fromY = height / 2 + (y - height / 2) / 1.012 + 3;
      const gone = ellipse(x / width, v, { x: 0.41, y: 0.825, a: 0.035, b: 0.055 });
      for (let c = 0; c < 3; c += 1) {
        const here = sample(image, fromX, fromY, c);
        const beside = gone > 0 ? sample(image, fromX - 0.085 * width, fromY, c) : 0;
        rgb[(y * width + x) * 3 + c] = Math.round(here * (1 - gone) + beside * gone);
      }
    }
  }
  return { width, height, rgb };
}

/** 1 inside an ellipse, 0 outside, with a soft rim. */
function ellipse(u: number, v: number, at: { x: number; y: number; a: number; b: number }): number {
  const distance = Math.hypot((u - at.x) / at.a, (v - at.y) / at.b);
  return Math.min(1, Math.max(0, (1.15 - distance) / 0.3));
}

/** Bilinear, the rim repeated. */
function sample(image: SourceImage, x: number, y: number, channel: number): number {
  const left = Math.min(image.width - 2, Math.max(0, Math.floor(x)));
  const top = Math.min(image.height - 2, Math.max(0, Math.floor(y)));
  const u = Math.min(1, Math.max(0, x - left));
  const v = Math.min(1, Math.max(0, y - top));
  const at = (dx: number, dy: number): number => image.rgb[((top + dy) * image.width + left + dx) * 3 + channel] ?? 0;
  return (at(0, 0) * (1 - u) + at(1, 0) * u) * (1 - v) + (at(0, 1) * (1 - u) + at(1, 1) * u) * v;
}
