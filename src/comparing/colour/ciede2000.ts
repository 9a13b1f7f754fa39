import type { Lab } from './lab.ts';

const RADIANS = Math.PI / 180;
const SEVENTH_OF_25 = 25 ** 7;

/**
 * How far apart two colours look: CIEDE2000 with all weights 1. About 1 is just visible side by side.
 * The order of the two does not matter.
 *
 * @source Sharma, Wu, Dalal, "The CIEDE2000 color-difference formula", Color Res. Appl. 30 (2005), equations 2 to 22;
 *   their 34 pairs in test/standards/ciede2000
 */
export function deltaE00(one: Lab, other: Lab): number {
  return deltaE00OfValues(one.l, one.a, one.b, other.l, other.a, other.b);
}

/**
 * The CIEDE2000 of each pixel pair of two pictures.
 *
 * @param one  L*, a*, b* of each pixel, as labFromSrgbBytes writes them; `other` likewise, of the same length
 * @param out  receives one number a pixel
 * @source as deltaE00
 */
export function deltaE00OfPixels(one: Float32Array, other: Float32Array, out: Float32Array): void {
  for (let at = 0, pixel = 0; at + 2 < one.length; at += 3, pixel++) {
    out[pixel] = deltaE00OfValues(one[at]!, one[at + 1]!, one[at + 2]!, other[at]!, other[at + 1]!, other[at + 2]!);
  }
}

/**
 * CIEDE2000 of two colours as six numbers, for loops that must not allocate.
 *
 * @source as deltaE00; the equation numbers below are those of Sharma, Wu, Dalal (2005)
 */
export function deltaE00OfValues(l1: number, a1: number, b1: number, l2: number, a2: number, b2: number): number {
  if (l1 === l2 && a1 === a2 && b1 === b2) return 0;
  const meanChroma = (Math.sqrt(a1 * a1 + b1 * b1) + Math.sqrt(a2 * a2 + b2 * b2)) / 2; // (2), (3)
  const stretch = 1.5 - 0.5 * chromaShare(meanChroma); // 1 + G of (4)
  const a1s = stretch * a1; // (5)
  const a2s = stretch * a2;
  const c1 = Math.sqrt(a1s * a1s + b1 * b1); // (6)
  const c2 = Math.sqrt(a2s * a2s + b2 * b2);
  const coloured = c1 * c2 !== 0;
  const h1 = hue(a1s, b1); // (7), in degrees
  const h2 = hue(a2s, b2);

  let hueStep = 0; // (10)
  if (coloured) {
    hueStep = h2 - h1;
    if (hueStep > 180) hueStep -= 360;
    else if (hueStep < -180) hueStep += 360;
  }
  const dL = l2 - l1; // (8)
  const dC = c2 - c1; // (9)
  const dH = 2 * Math.sqrt(c1 * c2) * Math.sin((hueStep / 2) * RADIANS); // (11)

  const lBar = (l1 + l2) / 2; // (12)
  const cBar = (c1 + c2) / 2; // (13)
  let hBar = h1 + h2; // (14)
  if (coloured) {
    if (Math.abs(h1 - h2) > 180) hBar += hBar < 360 ? 360 : -360;
    hBar /= 2;
  }
  const t = // (15)
    1 -
    0.17 * Math.cos((hBar - 30) * RADIANS) +
    0.24 * Math.cos(2 * hBar * RADIANS) +
    0.32 * Math.cos((3 * hBar + 6) * RADIANS) -
    0.2 * Math.cos((4 * hBar - 63) * RADIANS);
  const fromMiddle = (lBar - 50) * (lBar - 50);
  const sL = 1 + (0.015 * fromMiddle) / Math.sqrt(20 + fromMiddle); // (18)
  const sC = 1 + 0.045 * cBar; // (19)
  const sH = 1 + 0.015 * cBar * t; // (20)
  const fromBlue = (hBar - 275) / 25;
  const turn = 60 * Math.exp(-fromBlue * fromBlue) * RADIANS; // twice (16)
  const rT = -Math.sin(turn) * 2 * chromaShare(cBar); // (17), (21)
  const l = dL / sL;
  const c = dC / sC;
  const h = dH / sH;
  return Math.sqrt(Math.max(0, l * l + c * c + h * h + rT * c * h)); // (22)
}

/** The square root in (4) and (17): C^7 / (C^7 + 25^7). */
function chromaShare(chroma: number): number {
  const cube = chroma * chroma * chroma;
  const seventh = cube * cube * chroma;
  return Math.sqrt(seventh / (seventh + SEVENTH_OF_25));
}

function hue(a: number, b: number): number {
  if (a === 0 && b === 0) return 0;
  const degrees = Math.atan2(b, a) / RADIANS;
  return degrees < 0 ? degrees + 360 : degrees;
}
