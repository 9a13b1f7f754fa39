import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareArtwork } from '../../src/comparing/artwork.ts';
import { UNCHANGED } from '../../src/comparing/conversion/colour-map.ts';
import { preparePage } from '../../src/comparing/page-sides.ts';
import type { Box, Finding } from '../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import type { Patch, Rgb } from './made-up-scenes.ts';
import { even } from './made-up-scenes.ts';
import { drawPage } from './sketched-page.ts';

const settings = { seed: 20261125, numRuns: 12 };
const SIZE = { width: 40, height: 30 };
const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const box: fc.Arbitrary<Box> = fc.record({
  x: within(2, 25),
  y: within(2, 18),
  width: within(1, 12),
  height: within(1, 9),
});
/** Dark enough to be seen on paper. */
const ink: fc.Arbitrary<Rgb> = fc.tuple(
  ...([0, 1, 2].map(() => fc.integer({ min: 0, max: 190 })) as [
    fc.Arbitrary<number>,
    fc.Arbitrary<number>,
    fc.Arbitrary<number>,
  ]),
);
const tint: fc.Arbitrary<Patch> = fc.tuple(box, ink).map(([place, colour]) => ({ box: place, scene: even(...colour) }));

function compare(
  dummy: readonly Patch[],
  revision: readonly Patch[],
  explained: readonly Box[] = [],
): readonly Finding[] {
  const sides = {
    dummy: preparePage(drawPage({ size: SIZE, artwork: dummy })),
    revision: preparePage(drawPage({ size: SIZE, artwork: revision })),
  };
  return compareArtwork(sides, explained, UNCHANGED, DEFAULT_TOLERANCES);
}

describe('whatever is drawn', () => {
  it('it is silent against itself', () => {
    fc.assert(
      fc.property(fc.array(tint, { maxLength: 4 }), (drawn) => {
        expect(compare(drawn, drawn)).toEqual([]);
      }),
      settings,
    );
  });

  it('a tint that went is found where it was, and a tint that came where it is', () => {
    fc.assert(
      fc.property(tint, (one) => {
        for (const found of [compare([one], []), compare([], [one])]) {
          expect(found).toHaveLength(1);
          const seen = found[0]!.box!;
          // A pixel is a quarter of a millimetre, and an edge that cuts one may count or not.
          expect(Math.abs(seen.x - one.box.x)).toBeLessThan(0.3);
          expect(Math.abs(seen.y - one.box.y)).toBeLessThan(0.3);
          expect(Math.abs(seen.x + seen.width - one.box.x - one.box.width)).toBeLessThan(0.3);
          expect(Math.abs(seen.y + seen.height - one.box.y - one.box.height)).toBeLessThan(0.3);
        }
      }),
      settings,
    );
  });

  it('swapped pages have changes in the same places', () => {
    fc.assert(
      fc.property(fc.array(tint, { maxLength: 3 }), fc.array(tint, { maxLength: 3 }), (dummy, revision) => {
        const places = (found: readonly Finding[]) => found.map((finding) => JSON.stringify(finding.box)).sort();
        // The leave for saturated tints is taken from the dummy's colour, so only black and grey answer alike.
        const grey = (patches: readonly Patch[]) =>
          patches.map(({ box: place }) => ({ box: place, scene: even(90, 90, 90) }));
        expect(places(compare(grey(revision), grey(dummy)))).toEqual(places(compare(grey(dummy), grey(revision))));
      }),
      settings,
    );
  });

  it('under a place that is accounted for nothing is found', () => {
    fc.assert(
      fc.property(tint, (one) => {
        const { x, y, width, height } = one.box;
        const over = { x: x - 0.3, y: y - 0.3, width: width + 0.6, height: height + 0.6 };
        expect(compare([one], [], [over])).toEqual([]);
      }),
      settings,
    );
  });
});
