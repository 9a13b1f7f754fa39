import { describe, expect, it } from 'vitest';
import { preparePage } from '../../../src/comparing/page-sides.ts';
import type { RegisteredPair } from '../../../src/comparing/pictures/register-pair.ts';
import { registerPair } from '../../../src/comparing/pictures/register-pair.ts';
import type { Box, PlacedPicture } from '../../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import type { Scene } from '../made-up-scenes.ts';
import { carried, even, photograph } from '../made-up-scenes.ts';
import type { PageSketch } from '../sketched-page.ts';
import { drawPage } from '../sketched-page.ts';

const WINDOW: Box = { x: 8, y: 6, width: 46, height: 36 };
const MIDDLE = { centreX: 31, centreY: 24 };
const scene = photograph(8);

/** The frame that is placed, larger than its window all round; by how much it was shifted and enlarged in the file. */
function placement(shiftX = 0, shiftY = 0, scale = 1): Partial<PlacedPicture> {
  const [width, height] = [60 * scale, 48 * scale];
  const placed = { x: 31 + shiftX - width / 2, y: 24 + shiftY - height / 2, width, height };
  const matrix = [width, 0, 0, height, placed.x, placed.y] as const;
  return { pixelWidth: 1000, pixelHeight: 800, placed, matrix, window: WINDOW };
}

interface Shown {
  readonly scene: Scene;
  readonly told?: Partial<PlacedPicture>;
  readonly size?: PageSketch['size'];
  readonly window?: Box;
}

function register(dummy: Shown, revision: Shown, covers: readonly Box[] = []): RegisteredPair | null {
  const [one, other] = [dummy, revision].map(({ size, window = WINDOW, ...shown }) => {
    const picture = { window, told: placement(), ...shown };
    const side = preparePage(drawPage({ pictures: [picture], ...(size === undefined ? {} : { size }) }));
    return { seen: side.pictures[0]!, side };
  });
  return registerPair(one!, other!, covers, DEFAULT_TOLERANCES);
}

describe('a picture pair is registered', () => {
  it('by its pixels, in millimetres about the middle of its window', () => {
    const found = register(
      { scene },
      { scene: carried(scene, { ...MIDDLE, shiftX: 1.2, shiftY: -0.6, scale: 1.03 }) },
    )!;
    expect(found.decidedBy).toBe('pixels');
    expect([found.map.centreX, found.map.centreY]).toEqual([31, 24]);
    expect(found.map.shiftX).toBeCloseTo(1.2, 2);
    expect(found.map.shiftY).toBeCloseTo(-0.6, 2);
    expect(found.map.scale).toBeCloseTo(1.03, 3);
    expect(found.map.mirrored).toBe(false);
    expect(found.likeness).toBeGreaterThan(0.99);
  });

  it('whatever the placements say against it', () => {
    const found = register({ scene }, { scene: carried(scene, { shiftX: 1.2 }), told: placement(-5, 3) })!;
    expect(found.decidedBy).toBe('pixels');
    expect(found.map.shiftX).toBeCloseTo(1.2, 2);
  });

  it('with the same result where half the resolution is enough for a large picture', () => {
    const size = { width: 110, height: 96 };
    const window = { x: 4, y: 4, width: 100, height: 88 };
    const large = photograph(8, 6);
    const told = { ...placement(), window };
    const found = register(
      { scene: large, size, window, told },
      { scene: carried(large, { shiftX: 0.7 }), size, window, told },
    )!;
    expect(Math.abs(found.map.shiftX - 0.7)).toBeLessThan(0.03);
    expect(Math.abs(found.map.shiftY)).toBeLessThan(0.03);
  });

  it('without what lies over it', () => {
    const label = { x: 14, y: 12, width: 14, height: 12 };
    const covered =
      (under: Scene): Scene =>
      (x, y) =>
        x > label.x && x < label.x + label.width && y > label.y && y < label.y + label.height
          ? [255, 255, 255]
          : under(x, y);
    const moved = carried(scene, { shiftX: 1.5 });
    const found = register({ scene: covered(scene) }, { scene: covered(moved) }, [label])!;
    expect(found.map.shiftX).toBeCloseTo(1.5, 2);
    expect(found.likeness).toBeGreaterThan(0.85);
  });

  it('not at all where everything lies under something', () => {
    expect(register({ scene }, { scene }, [{ x: 0, y: 0, width: 64, height: 50 }])).toBeNull();
  });
});

describe('an even picture, where no pixel tells anything', () => {
  const fog = even(205, 208, 210);

  it('is registered by its placements where both files place the same frame', () => {
    const found = register({ scene: fog, told: placement() }, { scene: fog, told: placement(0.4, -0.2) })!;
    expect(found.decidedBy).toBe('placement');
    expect(found.map.shiftX).toBeCloseTo(0.4, 6);
    expect(found.map.shiftY).toBeCloseTo(-0.2, 6);
    expect(found.map.scale).toBeCloseTo(1, 6);
    expect(Math.max(found.uncertaintyXmm, found.uncertaintyYmm)).toBeLessThan(0.2);
  });

  it('is left uncertain by millimetres where the placements tell nothing', () => {
    const cropped = { ...placement(), placed: WINDOW, pixelWidth: 700, pixelHeight: 700 };
    const found = register({ scene: fog }, { scene: fog, told: cropped })!;
    expect(found.decidedBy).toBe('pixels');
    expect(Math.min(found.uncertaintyXmm, found.uncertaintyYmm)).toBeGreaterThan(3);
    expect(found.scaleUncertainty).toBeGreaterThan(0.1);
  });
});

describe('a picture of upright bars', () => {
  const bars: Scene = (x) => {
    const value = 128 + 60 * Math.sin(x * 1.1) + 40 * Math.sin(x * 0.63 + 1);
    return [value, value, value];
  };

  it('has its pixels for across, and its placements for up and down', () => {
    const found = register({ scene: bars }, { scene: carried(bars, { shiftX: 0.3 }), told: placement(0.3, 0.5) })!;
    expect(found.decidedBy).toBe('placement');
    expect(Math.abs(found.map.shiftX - 0.3)).toBeLessThan(0.02);
    expect(found.uncertaintyXmm).toBeLessThan(0.05);
    expect(found.map.shiftY).toBeCloseTo(0.5, 6);
  });

  it('does not let placements decide that contradict what its pixels do see', () => {
    const across = register({ scene: bars }, { scene: carried(bars, { shiftX: 0.3 }), told: placement(3, 0.5) })!;
    expect(across.decidedBy).toBe('pixels');
    expect(Math.abs(across.map.shiftX - 0.3)).toBeLessThan(0.02);
    const rungs: Scene = (x, y) => bars(y, x);
    const down = register({ scene: rungs }, { scene: carried(rungs, { shiftY: 0.3 }), told: placement(0.5, -3) })!;
    expect(down.decidedBy).toBe('pixels');
    expect(Math.abs(down.map.shiftY - 0.3)).toBeLessThan(0.02);
  });
});
