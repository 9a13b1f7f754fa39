import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PageComparison } from '../../src/comparing/index.ts';
import { comparePages } from '../../src/comparing/index.ts';
import { UNCHANGED } from '../../src/comparing/conversion/colour-map.ts';
import type { FindingKind } from '../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import { even, photograph } from './made-up-scenes.ts';
import type { PageSketch } from './sketched-page.ts';
import { drawPage } from './sketched-page.ts';

const settings = { seed: 20261125, numRuns: 8 };
const SIZE = { width: 50, height: 40 };

/** A page of a photo book: up to two pictures side by side, a caption, a rule; some of it may be left out. */
const page: fc.Arbitrary<PageSketch> = fc
  .record({
    seed: fc.integer({ min: 1, max: 400 }),
    left: fc.boolean(),
    right: fc.boolean(),
    caption: fc.constantFrom('', 'am alten hafen', 'foto von riva', 'seite 12'),
    ruleY: fc.constantFrom(0, 27.5, 38.2),
  })
  .map(({ seed, left, right, caption, ruleY }) => ({
    size: SIZE,
    pictures: [
      ...(left ? [{ window: { x: 0, y: 0, width: 24, height: 26 }, scene: photograph(seed, 3) }] : []),
      ...(right ? [{ window: { x: 27, y: 4, width: 18, height: 20 }, scene: photograph(seed + 7, 3) }] : []),
    ],
    lines: caption === '' ? [] : [{ text: caption, x: 4, baseline: 34 }],
    artwork: ruleY === 0 ? [] : [{ box: { x: 4, y: ruleY, width: 30, height: 0.3 }, scene: even(20, 20, 20) }],
  }));

const compare = (dummy: PageSketch, revision: PageSketch): PageComparison =>
  comparePages(
    { dummy: drawPage(dummy), revision: drawPage(revision), fine: null, bookConversion: UNCHANGED },
    DEFAULT_TOLERANCES,
  );
const kindsOf = ({ findings }: PageComparison) => findings.map(({ kind }) => kind).sort();

describe('whatever is on a page', () => {
  it('compared with itself it has no findings', () => {
    fc.assert(
      fc.property(page, (sketch) => {
        expect(compare(sketch, sketch)).toMatchObject({ findings: [], wantsFine: false });
      }),
      settings,
    );
  });

  it('compared with paper it has a finding for each of its things, and the other way round as many', () => {
    fc.assert(
      fc.property(page, (sketch) => {
        const { pictures = [], lines = [], artwork = [] } = sketch;
        const expected = (picture: FindingKind): FindingKind[] => [
          ...artwork.map(() => 'artwork-changed' as const),
          ...pictures.map(() => picture),
          ...lines.map(() => 'text-changed' as const),
        ];
        expect(kindsOf(compare(sketch, { size: SIZE }))).toEqual(expected('picture-missing'));
        expect(kindsOf(compare({ size: SIZE }, sketch))).toEqual(expected('picture-added'));
      }),
      { ...settings, numRuns: 3 },
    );
  });

  it('every finding has its pages, a box on the page, figures that are numbers, and a sentence', () => {
    fc.assert(
      fc.property(page, page, (dummy, revision) => {
        for (const { dummyPage, revisionPage, box, revisionBox, measured, says, weight } of compare(dummy, revision)
          .findings) {
          expect([dummyPage, revisionPage]).toEqual([1, 1]);
          for (const place of [box, revisionBox]) {
            if (place === null) continue;
            expect(place.width).toBeGreaterThan(0);
            expect(place.height).toBeGreaterThan(0);
            expect(place.x).toBeGreaterThan(-1);
            expect(place.x + place.width).toBeLessThan(SIZE.width + 1);
          }
          expect(box ?? revisionBox).not.toBeNull();
          expect(JSON.parse(JSON.stringify(measured))).toEqual(measured);
          expect(says.length).toBeGreaterThan(10);
          expect(['stop', 'look']).toContain(weight);
        }
      }),
      { ...settings, numRuns: 4 },
    );
  });
});
