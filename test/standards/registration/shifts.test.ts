import { describe, expect, it } from 'vitest';
import { registerPicture } from '../../../src/comparing/registration/register.ts';
import { recentre } from '../../../src/comparing/registration/similarity.ts';
import type { PageRaster } from '../../../src/model/index.ts';
import { nameOf, readProbes } from '../probe.ts';

interface Shift {
  readonly x: number;
  readonly y: number;
}

const probes = readProbes<Shift, Shift>(new URL('shifts.json', import.meta.url));
const SIDE = 64;

/** A field of five waves that repeats after 64 pixels, carried by a shift; anybody can build it again. */
function waves({ x: dx, y: dy }: Shift): PageRaster {
  const pitch = (2 * Math.PI) / SIDE;
  const rgb = new Uint8Array(SIDE * SIDE * 3);
  for (let row = 0; row < SIDE; row++) {
    for (let column = 0; column < SIDE; column++) {
      const [x, y] = [pitch * (column - dx), pitch * (row - dy)];
      const level =
        128 +
        40 * Math.cos(2 * x) +
        30 * Math.cos(3 * y) +
        20 * Math.cos(x + 2 * y) +
        15 * Math.cos(5 * x - 4 * y) +
        10 * Math.sin(7 * x + 6 * y);
      const at = 3 * (row * SIDE + column);
      rgb.fill(Math.round(level), at, at + 3);
    }
  }
  return { width: SIDE, height: SIDE, ppi: 100, rgb };
}

describe('a shift by parts of a pixel is measured as phase correlation measures it', () => {
  it('5 probes are there', () => expect(probes).toHaveLength(5));

  it.each(probes.map((probe) => [nameOf(probe), probe] as const))('%s', (_, { given, expected }) => {
    const whole = { left: 0, top: 0, width: SIDE, height: SIDE };
    const found = registerPicture({
      dummy: waves({ x: 0, y: 0 }),
      revision: waves(given),
      dummyWindow: whole,
      revisionWindow: whole,
      mask: null,
      hints: [],
    })!;
    const { shiftX, shiftY, scale, turnRad, mirrored } = recentre(found.map, SIDE / 2, SIDE / 2);
    // The tolerance that scikit-image's own test allows for an upsampling of 100; our levels are rounded to whole ones.
    expect(Math.abs(shiftX - expected.x)).toBeLessThan(0.05);
    expect(Math.abs(shiftY - expected.y)).toBeLessThan(0.05);
    expect(scale).toBeCloseTo(1, 2);
    expect(turnRad).toBeCloseTo(0, 2);
    expect(mirrored).toBe(false);
  });
});
