import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Plane } from '../../src/comparing/plane.ts';
import { clipPixelBox, halvePlane, smoothPlane } from '../../src/comparing/plane.ts';

const settings = { seed: 20261125, numRuns: 60 };

const plane = fc
  .record({
    width: fc.integer({ min: 2, max: 40 }),
    height: fc.integer({ min: 2, max: 40 }),
    left: fc.integer({ min: 0, max: 300 }),
    top: fc.integer({ min: 0, max: 300 }),
  })
  .chain((box) =>
    fc
      .array(fc.integer({ min: 0, max: 255 }), { minLength: box.width * box.height, maxLength: box.width * box.height })
      .map((values): Plane => ({ ...box, data: Float32Array.from(values) })),
  );

/** Where the darkness of a plane has its middle, on the page that the plane was taken from. */
function middleOf({ width, height, left, top, data }: Plane, pixel: number): { x: number; y: number } {
  let [sum, x, y] = [0, 0, 0];
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      const value = data[row * width + column]!;
      sum += value;
      x += value * (left + column + 0.5) * pixel;
      y += value * (top + row + 0.5) * pixel;
    }
  }
  return { x: x / sum, y: y / sum };
}

const mean = ({ data }: Plane) => data.reduce((sum, value) => sum + value, 0) / data.length;

/** A round spot, well away from the rim. */
const spot = fc
  .record({
    x: fc.double({ min: 14, max: 34, noNaN: true }),
    y: fc.double({ min: 14, max: 34, noNaN: true }),
    left: fc.integer({ min: 0, max: 301 }),
    top: fc.integer({ min: 0, max: 301 }),
  })
  .map(({ x, y, left, top }): Plane => {
    const value = (at: number) => {
      const [u, v] = [(at % 48) + 0.5 - x, Math.floor(at / 48) + 0.5 - y];
      return 200 * Math.exp(-(u * u + v * v) / 18);
    };
    return { width: 48, height: 48, left, top, data: Float32Array.from({ length: 48 * 48 }, (_, at) => value(at)) };
  });

describe('a spot on a plane', () => {
  it('lies at the same place of the page when the plane is halved, once or twice', () => {
    fc.assert(
      fc.property(spot, (full) => {
        const before = middleOf(full, 1);
        const half = halvePlane(full);
        const quarter = halvePlane(half);
        for (const after of [middleOf(half, 2), middleOf(quarter, 4)]) {
          expect(Math.hypot(after.x - before.x, after.y - before.y)).toBeLessThan(0.02);
        }
      }),
      settings,
    );
  });

  it('lies at the same place when the plane is smoothed', () => {
    fc.assert(
      fc.property(spot, (full) => {
        const [before, after] = [middleOf(full, 1), middleOf(smoothPlane(full), 1)];
        expect(Math.hypot(after.x - before.x, after.y - before.y)).toBeLessThan(0.02);
      }),
      settings,
    );
  });
});

describe('a plane of any picture', () => {
  it('of even size keeps its mean when halved', () => {
    fc.assert(
      fc.property(plane, (full) => {
        fc.pre(full.width % 2 === 0 && full.height % 2 === 0);
        expect(mean(halvePlane(full))).toBeCloseTo(mean(full), 3);
      }),
      settings,
    );
  });

  it('never gets lighter than its lightest or darker than its darkest pixel by smoothing', () => {
    fc.assert(
      fc.property(plane, (full) => {
        const { data } = smoothPlane(full);
        expect(Math.max(...data)).toBeLessThanOrEqual(Math.max(...full.data));
        expect(Math.min(...data)).toBeGreaterThanOrEqual(Math.min(...full.data));
      }),
      settings,
    );
  });
});

describe('a rectangle of pixels, however it lies', () => {
  const anywhere = fc.record({
    left: fc.integer({ min: -50, max: 80 }),
    top: fc.integer({ min: -50, max: 80 }),
    width: fc.integer({ min: -5, max: 90 }),
    height: fc.integer({ min: -5, max: 90 }),
  });
  const page = { width: 31, height: 23 };

  it('lies on the page once it is clipped, has a pixel at least, and clipping again changes nothing', () => {
    fc.assert(
      fc.property(anywhere, (box) => {
        const clipped = clipPixelBox(box, page);
        expect(clipped.left).toBeGreaterThanOrEqual(0);
        expect(clipped.top).toBeGreaterThanOrEqual(0);
        expect(clipped.left + clipped.width).toBeLessThanOrEqual(page.width);
        expect(clipped.top + clipped.height).toBeLessThanOrEqual(page.height);
        expect(Math.min(clipped.width, clipped.height)).toBeGreaterThanOrEqual(1);
        expect(clipPixelBox(clipped, page)).toEqual(clipped);
      }),
      settings,
    );
  });
});
