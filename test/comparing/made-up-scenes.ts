import type { Box, PageRaster } from '../../src/model/index.ts';
import type { Similarity } from '../../src/comparing/registration/similarity.ts';
import { standingStill } from '../../src/comparing/registration/similarity.ts';
import { chanceFrom } from './pairing/made-up-pages.ts';

export type Rgb = readonly [red: number, green: number, blue: number];

/** What there is to see at a place of the page, in mm; each channel 0 to 255, fractions allowed. */
export type Scene = (x: number, y: number) => Rgb;

const WAVES = 12;

/**
 * A scene as photographs have them: soft light over large forms and structure down to some 4 mm, in colour, and nowhere
 * repeating itself. It is a formula, so it can be drawn at any shift without resampling. Another one for each seed.
 */
export function photograph(seed: number, finestMm = 4): Scene {
  const chance = chanceFrom(seed * 6271 + 29);
  const waves = Array.from({ length: WAVES }, (_, nth) => {
    const length = finestMm * 1.27 ** nth;
    const direction = chance() * 2 * Math.PI;
    const phase = chance() * 2 * Math.PI;
    const size = 9 + 7 * chance();
    const pitch = (2 * Math.PI) / length;
    return {
      u: pitch * Math.cos(direction),
      v: pitch * Math.sin(direction),
      phase,
      red: size * (0.4 + 1.2 * chance()),
      green: size * (0.4 + 1.2 * chance()),
      blue: size * (0.4 + 1.2 * chance()),
    };
  });
  const ground = [100 + 60 * chance(), 100 + 60 * chance(), 100 + 60 * chance()];
  return (x, y) => {
    let [r, g, b] = [ground[0]!, ground[1]!, ground[2]!];
    for (let nth = 0; nth < WAVES; nth++) {
      const { u, v, phase, red, green, blue } = waves[nth]!;
      const wave = Math.sin(u * x + v * y + phase);
      r += red * wave;
      g += green * wave;
      b += blue * wave;
    }
    return [within(r), within(g), within(b)];
  };
}

export const even =
  (red: number, green: number, blue: number): Scene =>
  () => [red, green, blue];

/** The scene with every colour changed alike. */
export function recoloured(scene: Scene, change: (rgb: Rgb) => Rgb): Scene {
  return (x, y) => {
    const [r, g, b] = change(scene(x, y));
    return [within(r), within(g), within(b)];
  };
}

/** The scene with another one in a part of it. */
export function withPatch(scene: Scene, part: Box, other: Scene): Scene {
  return (x, y) =>
    x >= part.x && y >= part.y && x < part.x + part.width && y < part.y + part.height ? other(x, y) : scene(x, y);
}

/** Grain that no two files share: each place of some tenth of a millimetre is lighter or darker by up to `levels`. */
export function grainy(scene: Scene, levels: number, seed: number): Scene {
  return (x, y) => {
    const chance = chanceFrom(seed ^ (Math.round(x * 4) * 73856093) ^ (Math.round(y * 4) * 19349663));
    return scene(x, y).map((value) => within(value + levels * (2 * chance() - 1))) as unknown as Rgb;
  };
}

/** How content is carried elsewhere; what is not said stays as it was. Lengths in mm, about a centre. */
export type Carrying = Partial<Omit<Similarity, 'turnRad'>> & { readonly turnDeg?: number };

/** The map that a carrying stands for. */
export function similarityFor({ turnDeg = 0, ...rest }: Carrying): Similarity {
  return { ...standingStill(0, 0), ...rest, turnRad: (turnDeg * Math.PI) / 180 };
}

/** The scene carried elsewhere: what was seen at p is now seen at centre + scale * turn(mirror(p - centre)) + shift. */
export function carried(scene: Scene, carrying: Carrying): Scene {
  const { centreX, centreY, scale, turnRad, mirrored, shiftX, shiftY } = similarityFor(carrying);
  const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)];
  return (x, y) => {
    const [dx, dy] = [(x - centreX - shiftX) / scale, (y - centreY - shiftY) / scale];
    const [u, v] = [cos * dx + sin * dy, cos * dy - sin * dx];
    return scene(centreX + (mirrored ? -u : u), centreY + v);
  };
}

/** A part of the page and what is drawn there. */
export interface Patch {
  readonly box: Box;
  readonly scene: Scene;
}

/** Draws patches over each other on white paper; an edge that cuts a pixel covers it by its share, as renderers do. */
export function paint(
  size: { readonly width: number; readonly height: number },
  ppi: number,
  patches: readonly Patch[],
): PageRaster {
  const scale = ppi / 25.4;
  const width = Math.round(size.width * scale);
  const height = Math.round(size.height * scale);
  const colours = new Float32Array(width * height * 3).fill(255);
  for (const { box, scene } of patches) {
    const across = coverage(box.x * scale, (box.x + box.width) * scale, width);
    const down = coverage(box.y * scale, (box.y + box.height) * scale, height);
    for (const [y, shareY] of down) {
      for (const [x, shareX] of across) {
        const share = shareX * shareY;
        const seen = scene((x + 0.5) / scale, (y + 0.5) / scale);
        const at = (y * width + x) * 3;
        for (let k = 0; k < 3; k++) colours[at + k]! += share * (seen[k]! - colours[at + k]!);
      }
    }
  }
  const rgb = new Uint8Array(colours.length);
  for (let at = 0; at < rgb.length; at++) rgb[at] = colours[at]! + 0.5;
  return { width, height, ppi, rgb };
}

/** Pixels that an interval touches, each with the share of it that is covered. */
function coverage(from: number, to: number, most: number): readonly (readonly [number, number])[] {
  const touched: [number, number][] = [];
  for (let at = Math.max(0, Math.floor(from)); at < Math.min(most, Math.ceil(to)); at++) {
    touched.push([at, Math.min(to, at + 1) - Math.max(from, at)]);
  }
  return touched;
}

function within(value: number): number {
  return value < 0 ? 0 : value > 255 ? 255 : value;
}
