import type { RgbPicture } from './rgb-picture.ts';

/** Linear light of the 256 sRGB levels. @source IEC 61966-2-1, the transfer function */
const LINEAR = Float64Array.from({ length: 256 }, (_, level) => {
  const value = level / 255;
  return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
});

/**
 * CIELAB of an sRGB picture: three numbers a pixel (L*, a*, b*), row by row.
 *
 * @source IEC 61966-2-1 (sRGB to XYZ, D65), CIE 15 (XYZ to L*a*b*)
 */
export function labOf(picture: RgbPicture): Float32Array {
  const { rgb } = picture;
  const lab = new Float32Array(rgb.length);
  for (let at = 0; at < rgb.length; at += 3) {
    const r = LINEAR[rgb[at] ?? 0] ?? 0;
    const g = LINEAR[rgb[at + 1] ?? 0] ?? 0;
    const b = LINEAR[rgb[at + 2] ?? 0] ?? 0;
    const x = root((0.4124564 * r + 0.3575761 * g + 0.1804375 * b) / 0.95047);
    const y = root(0.2126729 * r + 0.7151522 * g + 0.072175 * b);
    const z = root((0.0193339 * r + 0.119192 * g + 0.9503041 * b) / 1.08883);
    lab[at] = 116 * y - 16;
    lab[at + 1] = 500 * (x - y);
    lab[at + 2] = 200 * (y - z);
  }
  return lab;
}

function root(value: number): number {
  return value > 216 / 24389 ? Math.cbrt(value) : (value * (24389 / 27) + 16) / 116;
}
