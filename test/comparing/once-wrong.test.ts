import { describe, expect, it } from 'vitest';
import { compareArtwork } from '../../src/comparing/artwork.ts';
import { applyColourMap, fitColourMap, UNCHANGED } from '../../src/comparing/conversion/colour-map.ts';
import { comparePages } from '../../src/comparing/index.ts';
import { preparePage } from '../../src/comparing/page-sides.ts';
import { matchPictures } from '../../src/comparing/pictures/match-pictures.ts';
import { alongCurve, curveBetween, toneOf } from './registration/tones.ts';
import type { Box } from '../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import type { Scene } from './made-up-scenes.ts';
import { carried, even, grainy, photograph } from './made-up-scenes.ts';
import type { PageSketch } from './sketched-page.ts';
import { drawPage } from './sketched-page.ts';

const WINDOW: Box = { x: 6, y: 5, width: 50, height: 35 };

function kindsOf(dummy: PageSketch, revision: PageSketch): string[] {
  const drawn = { dummy: drawPage(dummy), revision: drawPage(revision), fine: null };
  return comparePages({ ...drawn, bookConversion: UNCHANGED }, DEFAULT_TOLERANCES).findings.map(({ kind }) => kind);
}
const showing = (scene: Scene, window = WINDOW): PageSketch => ({ pictures: [{ window, scene }] });
const grey =
  (level: (x: number, y: number) => number): Scene =>
  (x, y) => {
    const value = Math.max(0, Math.min(255, level(x, y)));
    return [value, value, value];
  };

describe('a picture that did not change stays silent', () => {
  const horizon = grey((_, y) => 128 + 90 * Math.tanh((y - 14) / 2));
  it.each<[string, Scene, Scene]>([
    ['a horizon, the same to the pixel', horizon, horizon],
    ['a horizon in grain', grainy(horizon, 4, 1), grainy(horizon, 4, 101)],
    [
      'a light that falls off to the corners',
      grey((x, y) => 160 - 0.15 * ((x - 30) ** 2 + (y - 22) ** 2)),
      grey((x, y) => 160 - 0.15 * ((x - 30) ** 2 + (y - 22) ** 2)),
    ],
  ])('%s', (_, dummy, revision) => {
    expect(kindsOf(showing(dummy), showing(revision))).toEqual([]);
  });

  it.each([
    [180, 4.2],
    [180, 5],
    [4.5, 200],
  ])('a strip of %s by %s mm', (width, height) => {
    const strip = {
      ...showing(photograph(3), { x: 5, y: 5, width, height }),
      size: { width: width + 10, height: height + 10 },
    };
    expect(kindsOf(strip, strip)).toEqual([]);
  });
});

describe('a picture that did change is told, and rightly', () => {
  it.each([1, 2, 3, 4, 5, 6])('as another picture (%s)', (seed) => {
    expect(kindsOf(showing(photograph(seed)), showing(photograph(seed + 100)))).toEqual(['picture-replaced']);
  });

  it.each([0.8, 3])('as cropped anew, though a label drawn over it stays where it was: %s mm', (shiftX) => {
    const label = { box: { x: 14, y: 12, width: 14, height: 12 }, scene: even(255, 255, 255) };
    const [dummy, revision] = [photograph(8), carried(photograph(8), { shiftX })].map((scene) => ({
      ...showing(scene),
      artwork: [label],
    }));
    expect(kindsOf(dummy!, revision!)).toContain('crop-altered');
  });
});

describe('two pictures that look a little alike and exchanged their places', () => {
  it('are known by their data', () => {
    const places = [2, 22, 42].map((x) => ({ x, y: 2, width: 18, height: 13 }));
    const print = (name: number, place: number) => ({
      window: places[place]!,
      scene: carried(photograph(name + 1, 2.5), { shiftX: places[place]!.x, shiftY: places[place]!.y }),
      told: { samplesHash: `${name}` },
    });
    const sideOf = (names: readonly number[]) =>
      preparePage(drawPage({ pictures: names.map((name, at) => print(name, at)) }));
    const { pairs } = matchPictures(sideOf([4, 5, 2]), sideOf([5, 4, 2]));
    expect(pairs.map((pair) => [pair.dummy.picture.samplesHash, pair.revision.picture.samplesHash])).toEqual([
      ['4', '4'],
      ['5', '5'],
      ['2', '2'],
    ]);
  });
});

describe('a hairline', () => {
  it.each([0.02, 0.05, 0.1, 0.15])('that sits %s mm off, less than a pixel, stays silent', (shift) => {
    for (const width of [0.1, 0.15, 0.2, 0.3]) {
      for (let phase = 0; phase < 0.254; phase += 0.05) {
        const [dummy, revision] = [0, shift].map((by) =>
          preparePage(
            drawPage({
              artwork: [{ box: { x: 10, y: 20 + phase + by, width: 40, height: width }, scene: even(0, 0, 0) }],
            }),
          ),
        );
        expect(compareArtwork({ dummy: dummy!, revision: revision! }, [], UNCHANGED, DEFAULT_TOLERANCES)).toEqual([]);
      }
    }
  });
});

describe('tones', () => {
  it('of two equal drawings are carried over as they are, to the ends of the scale and of a single tone', () => {
    const levels = Float32Array.from({ length: 2560 }, (_, at) => at / 10);
    const curve = curveBetween(levels, levels, new Float32Array(2560).fill(1));
    const apart = alongCurve(curve, levels).map((tone, at) => Math.abs(tone - levels[at]!));
    expect(Math.max(...apart)).toBeLessThan(0.1);
    const one = new Float32Array(50).fill(90);
    expect(toneOf(curveBetween(one, one, new Float32Array(50).fill(1)), 90)).toBeCloseTo(90, 1);
  });

  it('of a sky that became red do not carry the other colours of its lightness along', () => {
    const [count, sky] = [2500, 250];
    const dummy = new Float32Array(count * 3);
    for (let i = 0; i < count; i++) dummy.set([(i * 37) % 101, ((i * 17) % 61) - 30, ((i * 29) % 61) - 30], i * 3);
    const revision = Float32Array.from(dummy);
    for (let i = 0; i < sky; i++) {
      dummy.set([70, -5, -25], i * 30);
      revision.set([60, 20, 30], i * 30);
    }
    const map = fitColourMap({ dummy, revision, weights: new Float32Array(count).fill(1) }, UNCHANGED, 0.002, 30);
    const out = new Float32Array(3);
    applyColourMap(map, 70, 10, 10, out, 0);
    expect(Math.abs(out[0]! - 70)).toBeLessThan(2);
  });
});
