import { numbersFrom } from '../../../demo/book/library.ts';
import { fractal, noiseField } from './noise.ts';

export type Rgb = readonly [number, number, number];
/** A picture as a function: x to the right from 0 to `aspect`, y down from 0 to 1; channels 0 to 255. */
export type Scene = (x: number, y: number) => Rgb;

const mix = (one: Rgb, other: Rgb, part: number): Rgb => {
  const t = Math.min(1, Math.max(0, part));
  return [one[0] + (other[0] - one[0]) * t, one[1] + (other[1] - one[1]) * t, one[2] + (other[2] - one[2]) * t];
};
const scaled = (colour: Rgb, factor: number): Rgb => [colour[0] * factor, colour[1] * factor, colour[2] * factor];

/** A colour of the wheel. */
function hue(turn: number, pale: number, light: number): Rgb {
  const channel = (shift: number): number =>
    255 * light * (1 - (1 - pale) * (0.5 + 0.5 * Math.cos(2 * Math.PI * (turn + shift))));
  return [channel(0.5), channel(0.5 - 1 / 3), channel(0.5 + 1 / 3)];
}

/** Scenes by name; each takes a seed and gives another picture of its sort. */
export const SCENES: Readonly<Record<string, (seed: number) => Scene>> = {
  sky(seed) {
    const clouds = fractal(noiseField(seed), 5);
    return (x, y) =>
      mix(mix([62, 108, 172], [206, 220, 228], y), [250, 248, 244], (clouds(x * 2.2, y * 3.4) - 0.5) * 4);
  },
  fog(seed) {
    const mist = fractal(noiseField(seed), 2);
    return (x, y) => scaled([206, 210, 212], 0.86 + 0.1 * mist(x * 1.5, y * 1.5) + 0.04 * y);
  },
  night(seed) {
    const next = numbersFrom(seed + 91);
    const lamps = Array.from({ length: 14 }, () => ({
      x: next() * 1.5,
      y: 0.45 + next() * 0.4,
      size: 0.004 + next() * 0.012,
      tone: hue(next() * 0.2, 0.6, 1),
    }));
    const ground = fractal(noiseField(seed), 4);
    return (x, y) => {
      let colour: Rgb = scaled([26, 30, 46], 0.5 + 0.6 * ground(x * 4, y * 4) * (y > 0.55 ? 1 : 0.4));
      for (const lamp of lamps)
        colour = mix(colour, lamp.tone, Math.exp(-(((x - lamp.x) ** 2 + (y - lamp.y) ** 2) / lamp.size ** 2)));
      return colour;
    };
  },
  foliage(seed) {
    const leaves = fractal(noiseField(seed), 5);
    const light = fractal(noiseField(seed + 1), 3);
    return (x, y) => {
      const leaf = leaves(x * 14, y * 14);
      const vein = Math.abs(((leaf * 9) % 1) - 0.5) * 2;
      return mix(scaled([38, 62, 30], 0.5 + vein), [206, 216, 122], (light(x * 3, y * 3) - 0.35) * 1.4 * vein);
    };
  },
  stone(seed) {
    const grain = fractal(noiseField(seed), 6);
    const crack = fractal(noiseField(seed + 1), 4);
    return (x, y) => {
      const dark = Math.min(1, Math.abs(crack(x * 4, y * 4) - 0.5) * 22);
      return scaled([182, 172, 158], (0.55 + 0.6 * grain(x * 10, y * 10)) * (0.35 + 0.65 * dark));
    };
  },
  facade(seed) {
    const next = numbersFrom(seed + 5);
    const [columns, rows, lean] = [5 + Math.floor(next() * 5), 4 + Math.floor(next() * 4), 0.2 * (next() - 0.5)];
    const wall = hue(next(), 0.7, 0.85);
    const rough = fractal(noiseField(seed), 4);
    const lit = noiseField(seed + 3);
    return (x, y) => {
      const u = (x + lean * y) * columns;
      const v = y * rows;
      const [du, dv] = [u - Math.floor(u), v - Math.floor(v)];
      const window = du > 0.25 && du < 0.75 && dv > 0.2 && dv < 0.8;
      const bar = Math.abs(du - 0.5) < 0.02 || Math.abs(dv - 0.45) < 0.015;
      if (!window) return scaled(wall, 0.75 + 0.35 * rough(x * 30, y * 30));
      return bar ? [236, 232, 224] : scaled([58, 72, 92], 0.5 + lit(Math.floor(u) * 3.7, Math.floor(v) * 2.9));
    };
  },
  water(seed) {
    const waves = fractal(noiseField(seed), 4);
    return (x, y) => mix([22, 58, 74], [214, 226, 220], (waves(x * 5, (y + 0.3) ** 2 * 30) - 0.42) * 2.6);
  },
  dunes(seed) {
    const sand = noiseField(seed);
    const ripple = fractal(noiseField(seed + 1), 3);
    return (x, y) => {
      const crest = 0.35 + 0.25 * sand(x * 1.7, 0.5);
      if (y < crest) return mix([120, 160, 196], [232, 214, 190], y / crest);
      const shade = sand(x * 2.5 + y * 3, y * 2) + 0.12 * Math.sin(90 * (y + 0.2 * ripple(x * 3, y * 3)));
      return mix([146, 92, 52], [238, 200, 142], shade);
    };
  },
  discs(seed) {
    const next = numbersFrom(seed + 40);
    const discs = Array.from({ length: 18 }, () => ({
      x: next() * 1.5,
      y: next(),
      r: 0.05 + next() * 0.09,
      tone: hue(next(), 0.35, 1),
    }));
    return (x, y) => {
      let colour: Rgb = mix([36, 28, 44], [74, 60, 66], y);
      for (const disc of discs) {
        const distance = Math.hypot(x - disc.x, y - disc.y) / disc.r;
        colour = mix(colour, disc.tone, 0.4 / (1 + Math.exp((distance - 1) * 14)));
      }
      return colour;
    };
  },
  sitter(seed) {
    const next = numbersFrom(seed + 77);
    const middle = 0.62 + 0.1 * next();
    const coat = hue(next(), 0.5, 0.5);
    const hair = fractal(noiseField(seed), 4);
    const ground = fractal(noiseField(seed + 2), 2);
    return (x, y) => {
      const behind = scaled(hue(0.58, 0.8, 0.6), 0.7 + 0.5 * ground(x * 2, y * 2));
      const round = (dx: number, dy: number, a: number, b: number): number =>
        Math.hypot((x - middle - dx) / a, (y - dy) / b);
      const edge = (distance: number, soft: number): number => 1 / (1 + Math.exp((distance - 1) * soft));
      let colour = mix(behind, scaled(coat, 0.7 + 0.5 * hair(x * 18, y * 18)), edge(round(0, 1.1, 0.42, 0.45), 40));
      colour = mix(colour, scaled([74, 54, 40], 0.5 + hair(x * 30, y * 6)), edge(round(0, 0.4, 0.2, 0.27), 50));
      colour = mix(
        colour,
        scaled([222, 178, 150], 0.75 + 0.35 * (x - middle + 0.5)),
        edge(round(0, 0.45, 0.15, 0.2), 60),
      );
      for (const side of [-0.055, 0.055]) colour = mix(colour, [44, 34, 34], edge(round(side, 0.42, 0.02, 0.012), 20));
      return mix(colour, [168, 92, 88], edge(round(0, 0.545, 0.045, 0.013), 18));
    };
  },
};
