import { describe, expect, it } from 'vitest';
import { lookAlike } from '../../../src/comparing/text/look-alike.ts';
import type { Scene } from '../made-up-scenes.ts';
import { even } from '../made-up-scenes.ts';
import type { TypeLine } from '../set-type.ts';
import type { PageSketch } from '../sketched-page.ts';
import { boxOfPixels, drawRaster, PPI } from '../sketched-page.ts';

const BOX = { x: 5, y: 6.5, width: 30, height: 4.5 };
const STILL = { xMm: 0, yMm: 0 };
const draw = (sketch: PageSketch) => drawRaster({ size: { width: 40, height: 16 }, ...sketch }, PPI);
const typed = (given: Partial<TypeLine> = {}) =>
  draw({ lines: [{ text: 'am alten hafen', x: 5, baseline: 10, ...given }] });
const tinted = (scene: Scene) => draw({ artwork: [{ box: { x: 0, y: 0, width: 40, height: 16 }, scene }] });

describe('how alike two places look', () => {
  it('is 1 for the same drawing', () => {
    expect(lookAlike({ dummy: typed(), revision: typed() }, BOX, STILL)).toBeCloseTo(1, 9);
  });

  it('does not fall for another ink or contrast', () => {
    const grey = typed({ ink: even(90, 90, 90) });
    expect(lookAlike({ dummy: typed(), revision: grey }, BOX, STILL)).toBeCloseTo(1, 3);
  });

  it('counts green for more than red and blue, as an eye does', () => {
    const tint = (red: number, green: number, blue: number) => tinted(even(red, green, blue));
    // 0.2126 * 60 = 12.8 levels of grey for red, 42.9 for green, 4.3 for blue; from 12 on two even tints differ.
    const likes = [tint(140, 200, 200), tint(200, 140, 200), tint(200, 200, 140)].map((other) =>
      lookAlike({ dummy: tint(200, 200, 200), revision: other }, BOX, STILL),
    );
    expect(likes).toEqual([0, 0, 1]);
  });

  it('is asked where the same thing lies on the other page', () => {
    const moved = typed({ x: 5 + boxOfPixels(4, 0, 0, 0).x, baseline: 10 + boxOfPixels(0, 3, 0, 0).y });
    const shift = { xMm: boxOfPixels(4, 0, 0, 0).x, yMm: boxOfPixels(0, 3, 0, 0).y };
    expect(lookAlike({ dummy: typed(), revision: moved }, BOX, shift)).toBeGreaterThan(0.995);
    expect(lookAlike({ dummy: typed(), revision: moved }, BOX, STILL)).toBeLessThan(0.6);
  });

  it('falls for other letters', () => {
    expect(lookAlike({ dummy: typed(), revision: typed({ shapes: 'other' }) }, BOX, STILL)).toBeLessThan(0.6);
  });

  it('is turned round for a negative', () => {
    const negative = { ...typed(), rgb: typed().rgb.map((value) => 255 - value) };
    expect(lookAlike({ dummy: typed(), revision: negative }, BOX, STILL)).toBeCloseTo(-1, 9);
  });

  it('is 1 or 0 for two even tints, by whether they have one tone', () => {
    const paper = tinted(even(250, 250, 250));
    expect(lookAlike({ dummy: paper, revision: tinted(even(246, 246, 246)) }, BOX, STILL)).toBe(1);
    expect(lookAlike({ dummy: paper, revision: tinted(even(120, 120, 120)) }, BOX, STILL)).toBe(0);
  });

  it('is nearly nothing where type stands on one page and bare paper on the other', () => {
    const like = lookAlike({ dummy: typed(), revision: draw({}) }, BOX, STILL);
    expect(Math.abs(like)).toBeLessThan(0.1);
  });

  it('is 1 for a place off the page: there is nothing to tell apart', () => {
    expect(lookAlike({ dummy: typed(), revision: typed() }, { x: 60, y: 0, width: 5, height: 5 }, STILL)).toBe(1);
  });
});
