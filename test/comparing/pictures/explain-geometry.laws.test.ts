import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { GeometryChange } from '../../../src/comparing/pictures/explain-geometry.ts';
import { explainGeometry } from '../../../src/comparing/pictures/explain-geometry.ts';
import type { Similarity } from '../../../src/comparing/registration/similarity.ts';
import { affineOf, mapPoint } from '../../../src/comparing/registration/similarity.ts';
import type { Box } from '../../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import { similarityFor } from '../made-up-scenes.ts';

const settings = { seed: 20261125 };
const PAGE = { width: 220, height: 280 };
const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** A window well inside the page, so that no edge is at the trim wherever it goes. */
const window: fc.Arbitrary<Box> = fc.record({
  x: within(40, 80),
  y: within(40, 80),
  width: within(30, 80),
  height: within(30, 80),
});
const slip = fc.record({ shiftX: within(-15, 15), shiftY: within(-15, 15), scale: within(0.8, 1.2) });

const about = (box: Box, given: Partial<Similarity>): Similarity => ({
  ...similarityFor({ centreX: box.x + box.width / 2, centreY: box.y + box.height / 2 }),
  ...given,
});

function carriedBox(map: Similarity, { x, y, width, height }: Box): Box {
  const m = affineOf(map);
  const [left, top] = mapPoint(m, x, y);
  const [right, bottom] = mapPoint(m, x + width, y + height);
  return { x: left, y: top, width: right - left, height: bottom - top };
}

function explain(map: Similarity, dummyWindow: Box, revisionWindow: Box): GeometryChange {
  return explainGeometry(
    {
      dummyWindow,
      revisionWindow,
      dummyPage: PAGE,
      revisionPage: PAGE,
      map,
      uncertaintyXmm: 0,
      uncertaintyYmm: 0,
      scaleUncertainty: 0,
      turnUncertaintyDeg: 0,
    },
    DEFAULT_TOLERANCES,
  );
}

describe('a frame that goes with its picture', () => {
  it('is never called a crop, however both went', () => {
    fc.assert(
      fc.property(window, slip, (box, given) => {
        const map = about(box, given);
        expect(['unchanged', 'picture-moved', 'picture-resized']).toContain(
          explain(map, box, carriedBox(map, box)).kind,
        );
      }),
      settings,
    );
  });

  it('keeps the figures of the way it went', () => {
    fc.assert(
      fc.property(window, slip, (box, { shiftX, shiftY }) => {
        fc.pre(Math.max(Math.abs(shiftX), Math.abs(shiftY)) > 2 * DEFAULT_TOLERANCES.cropMm);
        const map = about(box, { shiftX, shiftY });
        expect(explain(map, box, carriedBox(map, box))).toEqual({
          kind: 'picture-moved',
          shiftXmm: shiftX,
          shiftYmm: shiftY,
        });
      }),
      settings,
    );
  });
});

describe('a picture that slips in a frame that stays', () => {
  it('is cropped anew, and what is lost at one edge shows more at the other', () => {
    fc.assert(
      fc.property(window, slip, (box, { shiftX, shiftY }) => {
        fc.pre(Math.max(Math.abs(shiftX), Math.abs(shiftY)) > 2 * DEFAULT_TOLERANCES.cropMm);
        const change = explain(about(box, { shiftX, shiftY }), box, box);
        if (change.kind !== 'crop-altered') throw new Error(`${change.kind} told`);
        expect(change.cutMm.left + change.cutMm.right).toBeCloseTo(0, 9);
        expect(change.cutMm.top + change.cutMm.bottom).toBeCloseTo(0, 9);
        expect(change.cutMm.right).toBeCloseTo(shiftX, 9);
        expect(change.cutMm.bottom).toBeCloseTo(shiftY, 9);
      }),
      settings,
    );
  });

  it('loses as much of its width and height as the scale takes', () => {
    fc.assert(
      fc.property(window, slip, (box, given) => {
        const change = explain(about(box, given), box, box);
        fc.pre(change.kind === 'crop-altered' && !change.edgesOnly);
        const { left, right, top, bottom } = change.cutMm;
        // What still shows, on the dummy's scale, is the frame divided by the scale.
        expect(box.width - left - right).toBeCloseTo(box.width / given.scale, 6);
        expect(box.height - top - bottom).toBeCloseTo(box.height / given.scale, 6);
      }),
      settings,
    );
  });
});

describe('a frame whose edges alone move', () => {
  it('loses at each edge just what that edge moved inwards', () => {
    const edges = fc.record({ left: within(-8, 8), right: within(-8, 8), top: within(-8, 8), bottom: within(-8, 8) });
    fc.assert(
      fc.property(window, edges, (box, cut) => {
        const largest = Math.max(...Object.values(cut).map((value) => Math.abs(value)));
        fc.pre(largest > 2 * DEFAULT_TOLERANCES.cropMm);
        const after = {
          x: box.x + cut.left,
          y: box.y + cut.top,
          width: box.width - cut.left - cut.right,
          height: box.height - cut.top - cut.bottom,
        };
        const change = explain(about(box, {}), box, after);
        if (change.kind !== 'crop-altered') throw new Error(`${change.kind} told`);
        expect(change.edgesOnly).toBe(true);
        for (const edge of ['left', 'right', 'top', 'bottom'] as const) {
          expect(change.cutMm[edge]).toBeCloseTo(cut[edge], 9);
        }
      }),
      settings,
    );
  });
});

describe('nothing is told', () => {
  it('of any slip within the uncertainty, as long as the frame stays', () => {
    fc.assert(
      fc.property(window, slip, (box, given) => {
        const map = about(box, given);
        const change = explainGeometry(
          {
            dummyWindow: box,
            revisionWindow: box,
            dummyPage: PAGE,
            revisionPage: PAGE,
            map,
            uncertaintyXmm: 16,
            uncertaintyYmm: 16,
            scaleUncertainty: 0.3,
            turnUncertaintyDeg: 1,
          },
          DEFAULT_TOLERANCES,
        );
        expect(change).toEqual({ kind: 'unchanged' });
      }),
      settings,
    );
  });
});
