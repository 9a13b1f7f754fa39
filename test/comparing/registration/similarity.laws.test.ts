import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Affine, Similarity } from '../../../src/comparing/registration/similarity.ts';
import {
  affineOf,
  composeAffine,
  invertAffine,
  mapPoint,
  recentre,
  rescaleSimilarity,
  standingStill,
} from '../../../src/comparing/registration/similarity.ts';

const settings = { seed: 20261125 };
const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const similarity: fc.Arbitrary<Similarity> = fc.record({
  centreX: within(-200, 200),
  centreY: within(-200, 200),
  scale: within(0.4, 2.5),
  turnRad: within(-Math.PI, Math.PI),
  mirrored: fc.boolean(),
  shiftX: within(-50, 50),
  shiftY: within(-50, 50),
});
const point = fc.tuple(within(-300, 300), within(-300, 300));

function expectPoint([x, y]: readonly [number, number], [expectedX, expectedY]: readonly [number, number]): void {
  expect(x).toBeCloseTo(expectedX, 6);
  expect(y).toBeCloseTo(expectedY, 6);
}

/** The definition in words: mirrored about the vertical through the centre, scaled, turned clockwise, shifted. */
function carriedByHand(map: Similarity, [x, y]: readonly [number, number]): readonly [number, number] {
  const [u, v] = [(map.mirrored ? -1 : 1) * (x - map.centreX), y - map.centreY];
  const [cos, sin] = [Math.cos(map.turnRad), Math.sin(map.turnRad)];
  return [
    map.centreX + map.shiftX + map.scale * (cos * u - sin * v),
    map.centreY + map.shiftY + map.scale * (sin * u + cos * v),
  ];
}

describe('how content lies on the other page', () => {
  it('as six numbers is what its words say: mirrored, scaled and turned about the centre, then shifted', () => {
    fc.assert(
      fc.property(similarity, point, (map, at) => {
        expectPoint(mapPoint(affineOf(map), ...at), carriedByHand(map, at));
      }),
      settings,
    );
  });

  it('turned by a quarter has its top at the right', () => {
    const quarter = { ...standingStill(10, 10), turnRad: Math.PI / 2 };
    expectPoint(mapPoint(affineOf(quarter), 10, 0), [20, 10]);
  });

  it('standing still leaves every point in its place', () => {
    fc.assert(
      fc.property(point, point, ([centreX, centreY], at) => {
        expectPoint(mapPoint(affineOf(standingStill(centreX, centreY)), ...at), at);
      }),
      settings,
    );
  });

  it('there and back is where it was', () => {
    fc.assert(
      fc.property(similarity, point, (map, at) => {
        const there = affineOf(map);
        expectPoint(mapPoint(invertAffine(there), ...mapPoint(there, ...at)), at);
        expectPoint(mapPoint(composeAffine(there, invertAffine(there)), ...at), at);
        expectPoint(mapPoint(composeAffine(invertAffine(there), there), ...at), at);
      }),
      settings,
    );
  });

  it('carried twice in one step is carried once and then again, in that order', () => {
    fc.assert(
      fc.property(similarity, similarity, point, (first, second, at) => {
        const [one, other] = [affineOf(first), affineOf(second)];
        expectPoint(mapPoint(composeAffine(one, other), ...at), mapPoint(other, ...mapPoint(one, ...at)));
      }),
      settings,
    );
  });

  it('carried three times does not depend on which two steps are taken together', () => {
    fc.assert(
      fc.property(similarity, similarity, similarity, point, (a, b, c, at) => {
        const [first, second, third] = [affineOf(a), affineOf(b), affineOf(c)] as const;
        const left: Affine = composeAffine(composeAffine(first, second), third);
        const right: Affine = composeAffine(first, composeAffine(second, third));
        expectPoint(mapPoint(left, ...at), mapPoint(right, ...at));
      }),
      settings,
    );
  });

  it('told about another centre is the same map, and its shift is where that centre went', () => {
    fc.assert(
      fc.property(similarity, point, point, (map, [centreX, centreY], at) => {
        const told = recentre(map, centreX, centreY);
        expectPoint(mapPoint(affineOf(told), ...at), mapPoint(affineOf(map), ...at));
        expectPoint([centreX + told.shiftX, centreY + told.shiftY], mapPoint(affineOf(map), centreX, centreY));
        expect([told.scale, told.turnRad, told.mirrored]).toEqual([map.scale, map.turnRad, map.mirrored]);
      }),
      settings,
    );
  });

  it('told in another unit carries every point to the same place', () => {
    fc.assert(
      fc.property(similarity, within(0.1, 20), point, (map, factor, [x, y]) => {
        const [toX, toY] = mapPoint(affineOf(map), x, y);
        const inOtherUnit = mapPoint(affineOf(rescaleSimilarity(map, factor)), x * factor, y * factor);
        expectPoint(inOtherUnit, [toX * factor, toY * factor]);
      }),
      settings,
    );
  });

  it('keeps every length but for its scale, and every area but for its square', () => {
    fc.assert(
      fc.property(similarity, point, point, (map, one, other) => {
        const m = affineOf(map);
        const [a, b] = [mapPoint(m, ...one), mapPoint(m, ...other)];
        const before = Math.hypot(one[0] - other[0], one[1] - other[1]);
        expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeCloseTo(map.scale * before, 6);
        expect(m[0] * m[3] - m[1] * m[2]).toBeCloseTo((map.mirrored ? -1 : 1) * map.scale ** 2, 9);
      }),
      settings,
    );
  });
});
