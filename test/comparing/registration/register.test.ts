import { describe, expect, it } from 'vitest';
import type { Carrying, Rgb, Scene } from '../made-up-scenes.ts';
import { carried, even, grainy, paint, photograph, recoloured, withPatch } from '../made-up-scenes.ts';
import { registerPicture } from '../../../src/comparing/registration/register.ts';
import type { Measurement } from './measure.ts';
import { measure } from './measure.ts';

const SIZE = { width: 30, height: 23 };
const MIDDLE = { centreX: 15, centreY: 11.5 };
const scene = photograph(3, 3);

/** A hundredth of a millimetre and two hundredths of a degree: far below what the tolerances ask for. */
function expectCarried(found: Measurement | null, carrying: Carrying): void {
  const { shiftX = 0, shiftY = 0, scale = 1, turnDeg = 0, mirrored = false } = carrying;
  expect(found?.mirrored).toBe(mirrored);
  expect(Math.hypot(found!.shiftXmm - shiftX, found!.shiftYmm - shiftY)).toBeLessThan(0.01);
  expect(Math.abs(found!.scale - scale)).toBeLessThan(0.0005);
  const offDeg = ((found!.turnDeg - turnDeg + 540) % 360) - 180;
  expect(Math.abs(offDeg)).toBeLessThan(0.02);
}

describe('a picture is found where it went', () => {
  it.each<[string, Carrying]>([
    ['nowhere', {}],
    ['half a millimetre to the right', { shiftX: 0.5 }],
    ['a tenth of a millimetre up', { shiftY: -0.1 }],
    ['5 mm to the left and 2 mm down', { shiftX: -5, shiftY: 2 }],
    ['8 mm to the right, where a quarter of it is lost', { shiftX: 8 }],
    ['enlarged by 1.5 %', { scale: 1.015 }],
    ['enlarged by a quarter', { scale: 1.25 }],
    ['reduced to eight tenths', { scale: 0.8 }],
    ['turned by half a degree', { turnDeg: 0.5 }],
    ['turned back by 6 degrees', { turnDeg: -6 }],
    ['turned by a quarter', { turnDeg: 90 }],
    ['turned upside down', { turnDeg: 180 }],
    ['turned by three quarters', { turnDeg: 270 }],
    ['mirrored left for right', { mirrored: true }],
    ['mirrored top for bottom', { mirrored: true, turnDeg: 180 }],
    ['shifted, enlarged and turned together', { shiftX: 1.2, shiftY: -0.7, scale: 1.04, turnDeg: 1.5 }],
  ])('%s', (_, carrying) => {
    const found = measure(scene, carried(scene, { ...MIDDLE, ...carrying }), { size: SIZE });
    expectCarried(found, carrying);
    expect(found!.likeness).toBeGreaterThan(0.97);
  });
});

describe('another preparation of a picture does not move it', () => {
  const gamma = (power: number) => (rgb: Rgb) => rgb.map((value) => 255 * (value / 255) ** power) as unknown as Rgb;
  it.each<[string, (rgb: Rgb) => Rgb]>([
    ['lighter mid tones', gamma(0.65)],
    ['darker mid tones', gamma(1.6)],
    ['less contrast, as uncoated stock has it', ([r, g, b]) => [35 + 0.75 * r, 35 + 0.75 * g, 35 + 0.75 * b]],
    ['a negative', ([r, g, b]) => [255 - r, 255 - g, 255 - b]],
    ['grey', ([r, g, b]) => [0.3 * r + 0.6 * g + 0.1 * b, 0.3 * r + 0.6 * g + 0.1 * b, 0.3 * r + 0.6 * g + 0.1 * b]],
    ['a warm cast', ([r, g, b]) => [r + 12, g, b - 20]],
  ])('%s', (_, change) => {
    for (const shift of [{}, { shiftX: 0.7, shiftY: -0.3 }]) {
      const other = recoloured(carried(scene, shift), change);
      const found = measure(scene, other, { size: SIZE });
      expect(Math.hypot(found!.shiftXmm - (shift.shiftX ?? 0), found!.shiftYmm - (shift.shiftY ?? 0))).toBeLessThan(
        0.03,
      );
      expect(Math.abs(found!.scale - 1)).toBeLessThan(0.001);
    }
  });

  it('grain of its own', () => {
    const shift = { shiftX: 0.7, shiftY: -0.3 };
    const found = measure(grainy(scene, 15, 1), grainy(carried(scene, shift), 15, 2), { size: SIZE });
    expect(Math.hypot(found!.shiftXmm - 0.7, found!.shiftYmm + 0.3)).toBeLessThan(0.03);
  });
});

describe('what is not of the picture does not pull at it', () => {
  const shift = { shiftX: 0.7, shiftY: -0.3 };
  const blot = { x: 8, y: 6, width: 9, height: 8 };

  it('a retouched part', () => {
    const found = measure(scene, withPatch(carried(scene, shift), blot, even(20, 20, 20)), { size: SIZE });
    expectCarried(found, shift);
    // The part that differs still counts against the likeness.
    expect(found!.likeness).toBeLessThan(0.95);
  });

  it('type over it, which a mask leaves out altogether', () => {
    const type: Scene = (x, y) => ((Math.floor(x) + Math.floor(y)) % 2 === 0 ? [0, 0, 0] : [255, 255, 255]);
    const within = (x: number, y: number) => x > 7 && x < 18.5 && y > 5 && y < 15;
    const [one, other] = [withPatch(scene, blot, type), withPatch(carried(scene, shift), blot, type)];
    const found = measure(one, other, { size: SIZE, mask: within });
    expectCarried(found, shift);
    expect(found!.likeness).toBeGreaterThan(0.98);
  });
});

describe('how sure a measurement is', () => {
  it('is some thousandths of a millimetre for a sharp picture', () => {
    const found = measure(scene, carried(scene, { shiftX: 0.3 }), { size: SIZE })!;
    expect(Math.max(found.sureXmm, found.sureYmm)).toBeLessThan(0.005);
    expect(found.scaleDeviation).toBeLessThan(0.001);
  });

  it('is worse for a fainter picture in the same grain', () => {
    const faint = recoloured(scene, (rgb) => rgb.map((value) => 128 + (value - 128) * 0.2) as unknown as Rgb);
    const [clear, pale] = [scene, faint].map((one) => measure(grainy(one, 8, 1), grainy(one, 8, 2), { size: SIZE })!);
    expect(pale!.sureXmm / clear!.sureXmm).toBeGreaterThan(2);
    expect(pale!.sureYmm / clear!.sureYmm).toBeGreaterThan(2);
  });

  it('is nothing for an even picture: it could stand anywhere', () => {
    const found = measure(even(120, 120, 120), even(120, 120, 120), { size: SIZE })!;
    expect(Math.min(found.sureXmm, found.sureYmm)).toBeGreaterThan(3);
    expect(found.scaleDeviation).toBeGreaterThan(0.1);
    expect(found.likeness).toBe(0);
  });

  it('is good across and nothing along for a picture of upright bars', () => {
    const bars: Scene = (x) => {
      const value = 128 + 60 * Math.sin(x * 1.3) + 40 * Math.sin(x * 0.71 + 1);
      return [value, value, value];
    };
    const found = measure(bars, carried(bars, { shiftX: 0.4 }), { size: SIZE })!;
    expect(Math.abs(found.shiftXmm - 0.4)).toBeLessThan(0.02);
    expect(found.sureXmm).toBeLessThan(0.01);
    expect(found.sureYmm).toBeGreaterThan(1);
  });

  it('is not given where two pictures share too little to be laid over each other', () => {
    const raster = paint(SIZE, 100, [{ box: { x: 0, y: 0, ...SIZE }, scene }]);
    const speck = { left: 100, top: 70, width: 2, height: 2 };
    const whole = { left: 0, top: 0, width: 118, height: 91 };
    const task = { dummy: raster, revision: raster, mask: null, hints: [] };
    expect(registerPicture({ ...task, dummyWindow: whole, revisionWindow: speck })).toBeNull();
    expect(registerPicture({ ...task, dummyWindow: speck, revisionWindow: whole })).toBeNull();
    const silent = new Uint8Array(118 * 91);
    expect(registerPicture({ ...task, dummyWindow: whole, revisionWindow: whole, mask: silent })).toBeNull();
  });
});

describe('a hint of the placements', () => {
  it('leads to a place that no search would reach', () => {
    const page = { width: 70, height: 54 };
    const carrying = { centreX: 15, centreY: 11.5, scale: 0.6, turnDeg: 30, shiftX: 35, shiftY: 28 };
    const box = { x: 0, y: 0, ...page };
    const task = {
      dummy: paint(page, 100, [{ box, scene }]),
      revision: paint(page, 100, [{ box, scene: carried(scene, carrying) }]),
      dummyWindow: { left: 0, top: 0, width: 118, height: 91 },
      revisionWindow: { left: 0, top: 0, width: 276, height: 213 },
      mask: null,
    };
    const px = 100 / 25.4;
    const hint = {
      centreX: 15 * px,
      centreY: 11.5 * px,
      scale: 0.61,
      turnRad: (29 * Math.PI) / 180,
      mirrored: false,
      shiftX: 34.8 * px,
      shiftY: 28.1 * px,
    };
    const found = registerPicture({ ...task, hints: [hint] })!;
    expect(found.likeness).toBeGreaterThan(0.98);
    expect(found.map.scale).toBeCloseTo(0.6, 3);
    expect(found.map.turnRad).toBeCloseTo(Math.PI / 6, 3);
    expect(registerPicture({ ...task, hints: [] })?.likeness ?? 0).toBeLessThan(0.9);
  });
});
