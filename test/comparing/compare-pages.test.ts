import { describe, expect, it } from 'vitest';
import type { PageComparison } from '../../src/comparing/index.ts';
import { comparePages } from '../../src/comparing/index.ts';
import { UNCHANGED } from '../../src/comparing/conversion/colour-map.ts';
import type { Box, Finding, FindingKind } from '../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import { carried, even, photograph, withPatch } from './made-up-scenes.ts';
import { setLine } from './set-type.ts';
import type { PageSketch, SketchedPicture } from './sketched-page.ts';
import { drawFine, drawPage } from './sketched-page.ts';

const SIZE = { width: 56, height: 44 };
const WINDOW: Box = { x: 8, y: 5, width: 36, height: 26 };
const MIDDLE = { centreX: 26, centreY: 18 };
const CAPTION = { text: 'der alte hafen', x: 8, baseline: 38 };
const scene = photograph(3, 3);
const picture: SketchedPicture = { window: WINDOW, scene };
const page: PageSketch = { pictures: [picture], lines: [CAPTION] };

function compare(dummy: PageSketch, revision: PageSketch, { fine = false } = {}): PageComparison {
  const [one, other] = [
    { size: SIZE, ...dummy, pageNumber: 12 },
    { size: SIZE, ...revision, pageNumber: 13 },
  ];
  const drawn = { dummy: drawPage(one), revision: drawPage(other), fine: fine ? drawFine(one, other) : null };
  return comparePages({ ...drawn, bookConversion: UNCHANGED }, DEFAULT_TOLERANCES);
}

const kinds = ({ findings }: PageComparison) => findings.map(({ kind }) => kind);
const withPicture = (given: Partial<SketchedPicture>): PageSketch => ({
  ...page,
  pictures: [{ ...picture, ...given }],
});

/** The only finding, which must be of this kind. */
function only<K extends FindingKind>({ findings }: PageComparison, kind: K): Extract<Finding, { kind: K }> {
  expect(findings.map((finding) => finding.kind)).toEqual([kind]);
  return findings[0] as Extract<Finding, { kind: K }>;
}

const about = { dummyPage: 12, revisionPage: 13 };

describe('a page that is the same', () => {
  it('has no findings, and its colours did not move', () => {
    const { findings, colour, wantsFine } = compare(page, page);
    expect([findings, wantsFine]).toEqual([[], false]);
    expect(colour!.meanDeltaE00).toBeCloseTo(0, 2);
  });

  it('without pictures has no colours to measure', () => {
    expect(compare({ lines: [CAPTION] }, { lines: [CAPTION] })).toEqual({
      findings: [],
      colour: null,
      wantsFine: false,
    });
  });

  it('whose picture is drawn in another way, of which the file tells nothing, has no findings', () => {
    expect(kinds(compare(page, withPicture({ untold: true })))).toEqual([]);
    expect(kinds(compare(withPicture({ untold: true }), page))).toEqual([]);
  });
});

describe('a page trimmed to another size', () => {
  it('has that finding alone: nothing on it can be measured against the dummy', () => {
    const small = { ...withPicture({ scene: photograph(60) }), size: { width: 54, height: 44 } };
    const found = compare(page, small);
    expect(only(found, 'page-resized').measured).toEqual({ dummyMm: SIZE, revisionMm: { width: 54, height: 44 } });
    expect([found.colour, found.wantsFine]).toEqual([null, false]);
  });
});

describe('a picture', () => {
  it('that is gone is missing, with the place where it was', () => {
    expect(compare(page, { ...page, pictures: [] })).toEqual({
      findings: [
        {
          ...about,
          kind: 'picture-missing',
          weight: 'stop',
          box: WINDOW,
          revisionBox: null,
          measured: {},
          says: 'A picture of 36.0 mm by 26.0 mm is missing from the page.',
        },
      ],
      colour: null,
      wantsFine: false,
    });
  });

  it('that is gone with its caption is two findings, one each', () => {
    const found = compare(page, {});
    expect(kinds(found)).toEqual(['picture-missing', 'text-changed']);
    expect(found.findings.map(({ says }) => says)).toEqual([
      'A picture of 36.0 mm by 26.0 mm is missing from the page.',
      'Words are gone: “der alte hafen”.',
    ]);
  });

  it('that the dummy does not have is added', () => {
    expect(only(compare({ ...page, pictures: [] }, page), 'picture-added')).toEqual({
      ...about,
      kind: 'picture-added',
      weight: 'stop',
      box: null,
      revisionBox: WINDOW,
      measured: {},
      says: 'A picture of 36.0 mm by 26.0 mm stands on the page that the dummy does not have.',
    });
  });

  it('that moved with its frame is told with its way', () => {
    const window = { ...WINDOW, x: 10, y: 3.5 };
    const { measured, ...finding } = only(
      compare(page, withPicture({ window, scene: carried(scene, { shiftX: 2, shiftY: -1.5 }) })),
      'picture-moved',
    );
    expect(finding).toEqual({
      ...about,
      kind: 'picture-moved',
      weight: 'stop',
      box: WINDOW,
      revisionBox: window,
      says: 'The picture moved with its frame, 2.0 mm to the right and 1.5 mm up.',
    });
    expect(measured.shiftXmm).toBeCloseTo(2, 1);
    expect(measured.shiftYmm).toBeCloseTo(-1.5, 1);
  });

  it('that was scaled with its frame is told with its scale', () => {
    const window = { x: 6.2, y: 3.7, width: 39.6, height: 28.6 };
    const found = compare(page, withPicture({ window, scene: carried(scene, { ...MIDDLE, scale: 1.1 }) }));
    const { measured, says } = only(found, 'picture-resized');
    expect(measured.scale).toBeCloseTo(1.1, 3);
    expect(says).toBe('The picture is printed at 110.0 % of its size in the dummy.');
  });

  it('that slid in its frame is cropped anew, with what was lost at each edge', () => {
    const found = compare(page, withPicture({ scene: carried(scene, { shiftX: 1.5 }) }));
    const { measured, weight, box, revisionBox } = only(found, 'crop-altered');
    expect([weight, box, revisionBox, measured.decidedBy]).toEqual(['stop', WINDOW, WINDOW, 'pixels']);
    const { left, right, top, bottom } = measured.cutMm;
    const figures = [measured.shiftXmm, measured.shiftYmm, left, right, top, bottom];
    figures.forEach((value, at) => expect(Math.abs(value - [1.5, 0, -1.5, 1.5, 0, 0][at]!)).toBeLessThan(0.03));
    expect(measured.scale).toBeCloseTo(1, 3);
    expect(measured.uncertaintyMm).toBeLessThan(0.1);
  });

  it('whose frame was cut at an edge is cropped anew, with its content where it was', () => {
    const found = compare(page, withPicture({ window: { ...WINDOW, width: 33 } }));
    const { measured, says } = only(found, 'crop-altered');
    expect(measured.cutMm.right).toBeCloseTo(3, 9);
    expect(says).toBe(
      "The picture is cropped differently: the window's edges moved while the content stands; lost: 3.0 mm at the right.",
    );
  });

  it('under which another is missing: two pictures, one finding', () => {
    const small = { window: { x: 46, y: 5, width: 8, height: 8 }, scene: photograph(20, 2) };
    const both = { ...page, pictures: [picture, small] };
    expect(only(compare(both, page), 'picture-missing').box).toEqual(small.window);
  });
});

describe('the most telling kind is told once', () => {
  it('a mirrored picture is not also retouched and recoloured', () => {
    expect(kinds(compare(page, withPicture({ scene: carried(scene, { ...MIDDLE, mirrored: true }) })))).toEqual([
      'picture-mirrored',
    ]);
  });

  it('a picture put in the place of another is no artwork and no text', () => {
    const found = compare(page, withPicture({ scene: photograph(90, 3) }));
    expect(kinds(found).filter((kind) => !kind.startsWith('picture-'))).toEqual([]);
    expect(found.findings.length).toBeGreaterThan(0);
  });

  it('a word set over a picture is text, and the picture under it unchanged', () => {
    const [before, after] = ['hafen', 'haken'].map((text) => ({ ...page, lines: [{ text, x: 12, baseline: 20 }] }));
    const found = compare(before!, after!);
    expect(only(found, 'text-changed').measured).toEqual({ before: 'hafen', after: 'haken' });
  });

  it('a retouched part, a word and a rule are three findings in the order pictures, text, artwork', () => {
    const rule = { box: { x: 8, y: 41, width: 36, height: 0.3 }, scene: even(0, 0, 0) };
    const found = compare(
      { ...page, artwork: [rule] },
      {
        pictures: [{ ...picture, scene: withPatch(scene, { x: 20, y: 14, width: 6, height: 6 }, even(220, 20, 30)) }],
        lines: [{ ...CAPTION, text: 'der neue hafen' }],
      },
    );
    expect(kinds(found)).toEqual(['picture-retouched', 'text-changed', 'artwork-changed']);
    const [retouched, , artwork] = found.findings;
    expect(Math.abs(retouched!.box!.x + retouched!.box!.width / 2 - 23)).toBeLessThan(0.7);
    expect(Math.abs(artwork!.box!.y - 41)).toBeLessThan(0.4);
  });
});

describe('type that one file has as outlines', () => {
  const outlined = { pictures: [picture], outlined: [CAPTION] };

  it('asks for a comparison with fine drawings, and is then judged', () => {
    expect(compare(page, outlined)).toMatchObject({ findings: [], wantsFine: true });
    expect(compare(page, outlined, { fine: true })).toMatchObject({ findings: [], wantsFine: false });
  });

  it('that changed is found by its shapes', () => {
    const changed = { pictures: [picture], outlined: [{ ...CAPTION, text: 'der alte haken' }] };
    const finding = only(compare(page, changed, { fine: true }), 'text-changed');
    expect(finding.box).toEqual(setLine(CAPTION).words[2]!.box);
  });

  it('in both files is artwork: nobody knows its wording', () => {
    const [one, other] = ['hafen', 'haken'].map((text) => ({ outlined: [{ ...CAPTION, text }] }));
    expect(kinds(compare(one!, other!))).toEqual(['artwork-changed']);
  });
});

describe('the colours of a page', () => {
  it('are measured over its pictures by their area, the worst of any', () => {
    const small: SketchedPicture = { window: { x: 46, y: 5, width: 8, height: 8 }, scene: photograph(20, 2) };
    const both = (levels: number): PageSketch => ({
      pictures: [
        picture,
        { ...small, scene: (x, y) => small.scene(x, y).map((v) => v - levels) as unknown as [number, number, number] },
      ],
    });
    const { colour } = compare(both(0), both(12));
    const alone = compare(
      { pictures: [small] },
      { pictures: [{ ...small, scene: both(12).pictures![1]!.scene }] },
    ).colour!;
    expect(alone.meanDeltaE00).toBeGreaterThan(1);
    const share = 64 / (64 + 36 * 26);
    expect(colour!.meanDeltaE00 / alone.meanDeltaE00).toBeCloseTo(share, 1);
    expect(colour!.worstDeltaE00).toBeCloseTo(alone.worstDeltaE00, 1);
  });
});
