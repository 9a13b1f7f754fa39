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
  const stretch = stretchOf(one.a, one.b, other.a, other.b); // 1 + G of (4)
  const a1 = stretch * one.a; // (5)
  const a2 = stretch * other.a;
  const c1 = Math.sqrt(a1 * a1 + one.b * one.b); // (6)
  const c2 = Math.sqrt(a2 * a2 + other.b * other.b);
  const coloured = c1 * c2 !== 0;
  const h1 = hue(a1, one.b); // (7), in degrees
  const h2 = hue(a2, other.b);

  let hueStep = 0; // (10)
  if (coloured) {
    hueStep = h2 - h1;
    if (hueStep > 180) hueStep -= 360;
    else if (hueStep < -180) hueStep += 360;
  }
  const dH = 2 * Math.sqrt(c1 * c2) * Math.sin((hueStep / 2) * RADIANS); // (11)

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
  const sH = 1 + 0.015 * cBar * t; // (20)
  const c = (c2 - c1) / (1 + 0.045 * cBar); // (9), (19)
  return total(lightnessStep(one.l, other.l), c, dH / sH, rotation(hBar, cBar));
}

/**
 * CIEDE2000 of two colours as six numbers, for every pixel of a page: without objects, and with products instead of
 * four cosines. Differs from `deltaE00` by less than 0.0001 and takes about two thirds of its time.
 *
 * @source as deltaE00; cosines of multiple angles as any book of trigonometry has them. Its plain twin is deltaE00
 */
export function deltaE00OfValues(l1: number, a1: number, b1: number, l2: number, a2: number, b2: number): number {
  if (l1 === l2 && a1 === a2 && b1 === b2) return 0;
  const stretch = stretchOf(a1, b1, a2, b2);
  const a1s = stretch * a1;
  const a2s = stretch * a2;
  const c1 = Math.sqrt(a1s * a1s + b1 * b1);
  const c2 = Math.sqrt(a2s * a2s + b2 * b2);
  // The mean hue points where the two unit vectors add up to.
  const x = a1s * c2 + a2s * c1;
  const y = b1 * c2 + b2 * c1;
  const length = Math.sqrt(x * x + y * y);
  // Grey, or opposite hues, where it is the rule of the formula and not the sum that says which way round.
  if (length < 1e-3 * c1 * c2 || c1 * c2 < 1e-12) {
    return deltaE00({ l: l1, a: a1, b: b1 }, { l: l2, a: a2, b: b2 });
  }
  const product = c1 * c2;
  const size = Math.sqrt(2 * Math.max(0, product - a1s * a2s - b1 * b2));
  const dH = a1s * b2 - a2s * b1 < 0 ? -size : size;
  const cBar = (c1 + c2) / 2;

  const cos = x / length;
  const sin = y / length;
  const cos2 = 2 * cos * cos - 1;
  const sin2 = 2 * sin * cos;
  const cos3 = cos2 * cos - sin2 * sin;
  const sin3 = sin2 * cos + cos2 * sin;
  const cos4 = 2 * cos2 * cos2 - 1;
  const sin4 = 2 * sin2 * cos2;
  const t =
    1 -
    0.17 * (cos * COS_30 + sin * SIN_30) +
    0.24 * cos2 +
    0.32 * (cos3 * COS_6 - sin3 * SIN_6) -
    0.2 * (cos4 * COS_63 + sin4 * SIN_63);
  const sH = 1 + 0.015 * cBar * t;
  const c = (c2 - c1) / (1 + 0.045 * cBar);
  // The rotation is for blues: below 168 degrees its factor is under 1e-7.
  const blue = sin < 0 || cos < -0.98 ? rotation(hue(cos, sin), cBar) : 0;
  return total(lightnessStep(l1, l2), c, dH / sH, blue);
}

const COS_30 = Math.cos(30 * RADIANS);
const SIN_30 = Math.sin(30 * RADIANS);
const COS_6 = Math.cos(6 * RADIANS);
const SIN_6 = Math.sin(6 * RADIANS);
const COS_63 = Math.cos(63 * RADIANS);
const SIN_63 = Math.sin(63 * RADIANS);

function stretchOf(a1: number, b1: number, a2: number, b2: number): number {
  const meanChroma = (Math.sqrt(a1 * a1 + b1 * b1) + Math.sqrt(a2 * a2 + b2 * b2)) / 2; // (2), (3)
  return 1.5 - 0.5 * chromaShare(meanChroma); // (4)
}

function lightnessStep(l1: number, l2: number): number {
  const fromMiddle = ((l1 + l2) / 2 - 50) ** 2; // (12)
  return (l2 - l1) / (1 + (0.015 * fromMiddle) / Math.sqrt(20 + fromMiddle)); // (8), (18)
}

/** R_T of (21), the mean hue in degrees. */
function rotation(hBar: number, cBar: number): number {
  const fromBlue = (hBar - 275) / 25;
  const turn = 60 * Math.exp(-fromBlue * fromBlue) * RADIANS; // twice (16)
  return -Math.sin(turn) * 2 * chromaShare(cBar); // (17)
}

function total(l: number, c: number, h: number, rT: number): number {
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
