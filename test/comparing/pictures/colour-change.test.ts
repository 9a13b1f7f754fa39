import { describe, expect, it } from 'vitest';
import type { ColourMap } from '../../../src/comparing/conversion/colour-map.ts';
import { UNCHANGED } from '../../../src/comparing/conversion/colour-map.ts';
import { fitBookConversion } from '../../../src/comparing/conversion/book-conversion.ts';
import { measureColourChange } from '../../../src/comparing/pictures/colour-change.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import type { Rgb, Scene } from '../made-up-scenes.ts';
import { even, grainy, photograph, recoloured, withPatch } from '../made-up-scenes.ts';
import { pictureSignature, recolour } from '../pairing/made-up-pages.ts';
import { layScenes } from './laid-over.ts';

const scene = photograph(2);
type Change = (rgb: Rgb) => Rgb;
const measured = (dummy: Scene, revision: Scene, book: ColourMap = UNCHANGED) =>
  measureColourChange(layScenes(dummy, revision), book, DEFAULT_TOLERANCES)!;
const changed = (change: Change, book?: ColourMap) => measured(scene, recoloured(scene, change), book);

const grey = ([r, g, b]: Rgb) => 0.3 * r + 0.6 * g + 0.1 * b;
/** Colours brought nearer to grey; below 0 their opposites. */
const saturated =
  (share: number): Change =>
  (rgb) =>
    rgb.map((value) => grey(rgb) + share * (value - grey(rgb))) as unknown as Rgb;
/** The scene with its colours moved so that they are grey on average. */
function balanced(of: Scene): Scene {
  const seen = Array.from({ length: 600 }, (_, at) => of((at % 30) * 2, Math.floor(at / 30) * 2.2));
  const [r, g, b] = [0, 1, 2].map((k) => seen.reduce((sum, rgb) => sum + rgb[k]!, 0) / seen.length) as [
    number,
    number,
    number,
  ];
  const middle = grey([r, g, b]);
  return recoloured(of, (rgb) => [rgb[0] + middle - r, rgb[1] + middle - g, rgb[2] + middle - b]);
}
const uncoated: Change = ([r, g, b]) => [34 + 0.82 * r, 33 + 0.82 * g, 28 + 0.82 * b];

describe('a conversion of a picture stays silent', () => {
  it.each<[string, Change]>([
    ['nothing at all', (rgb) => rgb],
    ['a tone compression, as uncoated stock asks for it', uncoated],
    ['lighter mid tones', (rgb) => rgb.map((value) => 255 * (value / 255) ** 0.88) as unknown as Rgb],
    ['colours held back to seven tenths', saturated(0.7)],
    ['a paper a little warmer', ([r, g, b]) => [r, g - 2, b - 8]],
  ])('%s', (_, change) => {
    expect(changed(change).beyond).toBeNull();
  });

  it('even where it is strong, if the whole book had it', () => {
    const strong: Change = ([r, g, b]) => [r + 14, g + 6, b - 16];
    const pages = Array.from({ length: 10 }, (_, at) => pictureSignature(at));
    const book = fitBookConversion(pages.map((dummy) => ({ dummy, revision: recolour(dummy, (rgb) => strong(rgb)) })));
    expect(changed(strong).beyond).not.toBeNull();
    expect(changed(strong, book).beyond).toBeNull();
  });
});

describe('a picture of bricks, all of one vivid hue', () => {
  const bricks: Scene = (x, y) => {
    const light = 0.6 + 0.3 * Math.sin(x * 0.7) * Math.sin(y * 0.9);
    return [235 * light, 95 * light, 40 * light];
  };

  it('may pale as the whole book did', () => {
    const pages = Array.from({ length: 10 }, (_, at) => pictureSignature(at));
    const pale = saturated(0.6);
    const book = fitBookConversion(
      pages.map((dummy) => ({ dummy, revision: recolour(dummy, ([r, g, b]) => pale([r, g, b])) })),
    );
    expect(measured(bricks, recoloured(bricks, pale), book).beyond).toBeNull();
  });

  it('may not turn blue', () => {
    expect(
      measured(
        bricks,
        recoloured(bricks, ([r, g, b]) => [b, g, r]),
      ).beyond,
    ).toBe('it has a colour cast');
  });
});

describe('beyond a conversion is', () => {
  it.each<[string, Change, string]>([
    ['an inversion', ([r, g, b]) => [255 - r, 255 - g, 255 - b], 'its tones are inverted'],
    ['a picture turned to grey', saturated(0), 'its colours were turned to grey or nearly so'],
    ['a picture with a quarter of its colour left', saturated(0.25), 'its colours were turned to grey or nearly so'],
    ['a yellow cast', ([r, g, b]) => [r + 15, g + 10, b - 60], 'it has a colour cast'],
    ['a cyan cast', ([r, g, b]) => [r - 60, g + 5, b + 10], 'it has a colour cast'],
    ['a picture much lighter', ([r, g, b]) => [r + 50, g + 50, b + 50], 'its tones are changed'],
    ['a picture much darker', ([r, g, b]) => [r - 45, g - 45, b - 45], 'its tones are changed'],
  ])('%s', (_, change, beyond) => {
    expect(changed(change).beyond).toBe(beyond);
  });

  it('colours twice as strong', () => {
    // Grey on average: what changes is the strength alone.
    const neutral = balanced(scene);
    expect(measured(neutral, recoloured(neutral, saturated(2.2))).beyond).toBe('its colours are stronger');
  });

  it('a picture that the book’s conversion passed by: all others were compressed, this one was not', () => {
    const pages = Array.from({ length: 10 }, (_, at) => pictureSignature(at));
    const strong: Change = ([r, g, b]) => [r + 10, g - 5, b - 40];
    const book = fitBookConversion(pages.map((dummy) => ({ dummy, revision: recolour(dummy, (rgb) => strong(rgb)) })));
    expect(changed((rgb) => rgb, book).beyond).toBe('it has a colour cast');
  });
});

describe('the size of the change', () => {
  it('is nothing for the same picture', () => {
    const { meanDeltaE00, worstDeltaE00 } = changed((rgb) => rgb);
    expect(meanDeltaE00).toBeCloseTo(0, 3);
    expect(worstDeltaE00).toBeCloseTo(0, 2);
  });

  it('is a colour difference on average and at worst; the worst hundredth is left out as noise', () => {
    const dusty = withPatch(scene, { x: 3, y: 3, width: 3, height: 3 }, even(0, 0, 0));
    const { meanDeltaE00, worstDeltaE00 } = measured(scene, dusty);
    expect(worstDeltaE00).toBeLessThan(5);
    expect(meanDeltaE00).toBeLessThan(1);
    const blackened = withPatch(scene, { x: 3, y: 3, width: 20, height: 20 }, even(0, 0, 0));
    expect(measured(scene, blackened).worstDeltaE00).toBeGreaterThan(30);
  });

  it('grows with the change', () => {
    const sizes = [0, 10, 20, 40].map((levels) => changed(([r, g, b]) => [r, g, b - levels]).meanDeltaE00);
    expect(sizes).toEqual([...sizes].sort((one, other) => one - other));
    expect(sizes[0]).toBeCloseTo(0, 3);
    expect(sizes[3]).toBeGreaterThan(8);
  });

  it('is not told where hardly anything of the picture speaks', () => {
    const laid = layScenes(scene, scene);
    const speaks = new Uint8Array(laid.speaks.length).fill(1, 0, 19);
    expect(measureColourChange({ ...laid, speaks }, UNCHANGED, DEFAULT_TOLERANCES)).toBeNull();
  });
});

describe('a grey picture', () => {
  const portrait = recoloured(scene, saturated(0));

  it('kept grey stays silent, also in grain', () => {
    expect(measured(grainy(portrait, 6, 1), grainy(portrait, 6, 2)).beyond).toBeNull();
  });

  it('that was toned brown has a cast', () => {
    const brown = recoloured(portrait, ([r, g, b]) => [r + 25, g + 5, b - 30]);
    expect(measured(portrait, brown).beyond).toBe('it has a colour cast');
  });
});
