import { describe, expect, it } from 'vitest';
import type { RegisteredWindows } from '../../../src/comparing/pictures/explain-geometry.ts';
import { explainGeometry } from '../../../src/comparing/pictures/explain-geometry.ts';
import type { Box } from '../../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import type { Carrying } from '../made-up-scenes.ts';
import { similarityFor } from '../made-up-scenes.ts';

const tolerances = { ...DEFAULT_TOLERANCES, cropMm: 0.35, scalePercent: 1, turnDeg: 0.3 };
const PAGE = { width: 200, height: 250 };
const WINDOW: Box = { x: 40, y: 50, width: 100, height: 80 };
const MIDDLE = { centreX: 90, centreY: 90 };

/** A window of the dummy whose content was carried elsewhere, and the window of the revision. */
function windows(
  carrying: Carrying,
  revisionWindow: Box = WINDOW,
  given: Partial<RegisteredWindows> = {},
): RegisteredWindows {
  return {
    dummyWindow: WINDOW,
    revisionWindow,
    dummyPage: PAGE,
    revisionPage: PAGE,
    map: similarityFor({ ...MIDDLE, ...carrying }),
    uncertaintyXmm: 0.02,
    uncertaintyYmm: 0.02,
    scaleUncertainty: 0.001,
    turnUncertaintyDeg: 0.02,
    ...given,
  };
}

const explain = (given: RegisteredWindows) => explainGeometry(given, tolerances);
const moved = (box: Box, x: number, y: number): Box => ({ ...box, x: box.x + x, y: box.y + y });

describe('a picture in its frame', () => {
  it('that stands as it stood is unchanged', () => {
    expect(explain(windows({}))).toEqual({ kind: 'unchanged' });
  });

  it('that exporters moved by less than the tolerance is unchanged', () => {
    const rounded = windows({ shiftX: 0.2, shiftY: -0.3, scale: 1.005, turnDeg: 0.1 }, moved(WINDOW, 0.2, -0.3));
    expect(explain(rounded)).toEqual({ kind: 'unchanged' });
  });

  it('moved with its content was moved', () => {
    const both = windows({ shiftX: 3, shiftY: -1.5 }, moved(WINDOW, 3, -1.5));
    expect(explain(both)).toEqual({ kind: 'picture-moved', shiftXmm: 3, shiftYmm: -1.5 });
  });

  it('scaled with its content was resized', () => {
    const larger = { x: 35, y: 46, width: 110, height: 88 };
    expect(explain(windows({ scale: 1.1 }, larger))).toEqual({ kind: 'picture-resized', scale: 1.1 });
  });

  it('scaled and moved with its content was resized, once', () => {
    const larger = { x: 45, y: 56, width: 110, height: 88 };
    const given = windows({ scale: 1.1, shiftX: 10, shiftY: 10 }, larger);
    expect(explain(given)).toEqual({ kind: 'picture-resized', scale: 1.1 });
  });
});

describe('a crop', () => {
  it('where the content slid in its frame tells what was lost and what shows more', () => {
    expect(explain(windows({ shiftX: 2, shiftY: -1 }))).toEqual({
      kind: 'crop-altered',
      shiftXmm: 2,
      shiftYmm: -1,
      scale: 1,
      cutMm: { left: -2, right: 2, top: 1, bottom: -1 },
      edgesOnly: false,
    });
  });

  it('where the content was enlarged in its frame loses at every edge, on the dummy’s scale', () => {
    const change = explain(windows({ scale: 1.25 }));
    expect(change).toEqual({
      kind: 'crop-altered',
      shiftXmm: 0,
      shiftYmm: 0,
      scale: 1.25,
      // 100 mm now show what 80 mm of the dummy showed.
      cutMm: { left: 10, right: 10, top: 8, bottom: 8 },
      edgesOnly: false,
    });
  });

  it('where the content was reduced shows more at every edge', () => {
    const change = explain(windows({ scale: 0.8 }));
    expect(change).toMatchObject({ kind: 'crop-altered', scale: 0.8 });
    const { left, right, top, bottom } = (change as Extract<typeof change, { kind: 'crop-altered' }>).cutMm;
    // 100 mm now show 125 mm of the dummy's picture.
    expect([left, right, top, bottom].map((value) => Number(value.toFixed(9)))).toEqual([-12.5, -12.5, -10, -10]);
  });

  it.each<[string, Box, { left: number; right: number; top: number; bottom: number }]>([
    ['the right one cut back', { ...WINDOW, width: 97 }, { left: 0, right: 3, top: 0, bottom: 0 }],
    ['the left one cut back', { ...WINDOW, x: 42, width: 98 }, { left: 2, right: 0, top: 0, bottom: 0 }],
    ['the lower one let out', { ...WINDOW, height: 84 }, { left: 0, right: 0, top: 0, bottom: -4 }],
    ['the frame slid over the picture', moved(WINDOW, 5, 0), { left: 5, right: -5, top: 0, bottom: 0 }],
  ])('by its edges alone, %s, leaves the content where it stood', (_, revisionWindow, cutMm) => {
    expect(explain(windows({}, revisionWindow))).toEqual({
      kind: 'crop-altered',
      shiftXmm: 0,
      shiftYmm: 0,
      scale: 1,
      cutMm,
      edgesOnly: true,
    });
  });

  it('that goes with its content but for one edge is a crop, not a move', () => {
    const given = windows({ shiftX: 3 }, { x: 43, y: 50, width: 98, height: 80 });
    expect(explain(given)).toMatchObject({ kind: 'crop-altered', shiftXmm: 3, cutMm: { left: 0, right: 2 } });
  });
});

describe('edges at the trim', () => {
  const full: Box = { x: 0, y: 0, ...PAGE };
  const middle = { centreX: 100, centreY: 125 };
  const bled = (carrying: Carrying, revisionWindow = full) =>
    windows({ ...middle, ...carrying }, revisionWindow, { dummyWindow: full });

  it('tell nothing: a full page whose content slid was cropped anew', () => {
    expect(explain(bled({ shiftX: 2 }))).toEqual({
      kind: 'crop-altered',
      shiftXmm: 2,
      shiftYmm: 0,
      scale: 1,
      cutMm: { left: -2, right: 2, top: 0, bottom: 0 },
      edgesOnly: false,
    });
  });

  it('on one side leave the others to say that frame and picture moved together', () => {
    const half: Box = { x: 0, y: 0, width: 100, height: 250 };
    const given = windows({ centreX: 50, centreY: 125, shiftX: 4 }, { ...half, width: 104 }, { dummyWindow: half });
    expect(explain(given)).toEqual({ kind: 'picture-moved', shiftXmm: 4, shiftYmm: 0 });
  });

  it('a frame pulled away from the trim shows at its edge', () => {
    expect(explain(bled({}, { ...full, x: 5, width: 195 }))).toMatchObject({
      kind: 'crop-altered',
      cutMm: { left: 5, right: 0, top: 0, bottom: 0 },
      edgesOnly: true,
    });
  });
});

describe('a picture turned or mirrored', () => {
  it.each<[string, Carrying, ReturnType<typeof explain>]>([
    ['left for right', { mirrored: true }, { kind: 'picture-mirrored', axis: 'horizontal' }],
    ['top for bottom', { mirrored: true, turnDeg: 180 }, { kind: 'picture-mirrored', axis: 'vertical' }],
    [
      'top for bottom, measured the other way round',
      { mirrored: true, turnDeg: -180 },
      { kind: 'picture-mirrored', axis: 'vertical' },
    ],
    [
      'left for right and a little askew',
      { mirrored: true, turnDeg: 3 },
      { kind: 'picture-mirrored', axis: 'horizontal' },
    ],
  ])('%s is mirrored', (_, carrying, expected) => {
    expect(explain(windows(carrying))).toEqual(expected);
  });

  it.each([0.5, -0.5, 4, 90, -90, 180])('by %s degrees is turned, whatever its shift', (turnDeg) => {
    const change = explain(windows({ turnDeg, shiftX: 3, scale: 1.1 }));
    expect(change.kind).toBe('picture-turned');
    expect((change as Extract<typeof change, { kind: 'picture-turned' }>).degrees).toBeCloseTo(turnDeg, 9);
  });
});

describe('what cannot be measured is not claimed', () => {
  it('a shift, a scale or a turn within its uncertainty', () => {
    expect(explain(windows({ shiftX: 2 }, WINDOW, { uncertaintyXmm: 2.5 }))).toEqual({ kind: 'unchanged' });
    expect(explain(windows({ shiftY: -2 }, WINDOW, { uncertaintyYmm: 2.5 }))).toEqual({ kind: 'unchanged' });
    expect(explain(windows({ scale: 1.04 }, WINDOW, { scaleUncertainty: 0.05 }))).toEqual({ kind: 'unchanged' });
    expect(explain(windows({ turnDeg: 1.5 }, WINDOW, { turnUncertaintyDeg: 2 }))).toEqual({ kind: 'unchanged' });
  });

  it('but what lies beyond the uncertainty is, along the axis that can be measured', () => {
    const given = windows({ shiftX: 2, shiftY: 2 }, WINDOW, { uncertaintyXmm: 2.5 });
    expect(explain(given)).toMatchObject({ kind: 'crop-altered', shiftYmm: 2 });
  });

  it('and edges that moved show however soft the picture is', () => {
    const given = windows({ shiftX: 1 }, { ...WINDOW, width: 95 }, { uncertaintyXmm: 2.5, uncertaintyYmm: 2.5 });
    expect(explain(given)).toMatchObject({ kind: 'crop-altered', edgesOnly: true, cutMm: { right: 5, left: 0 } });
  });
});

describe('the tolerances decide', () => {
  it.each([
    ['a shift of a millimetre', { shiftX: 1 }, { cropMm: 1.1 }],
    ['a scale of 2 %', { scale: 1.02 }, { scalePercent: 2.5, cropMm: 2 }],
    ['a turn of 2 degrees', { turnDeg: 2 }, { turnDeg: 2.5 }],
  ] as const)('%s is told by default and silent where it is allowed', (_, carrying, allowed) => {
    const given = windows(carrying);
    expect(explainGeometry(given, tolerances).kind).not.toBe('unchanged');
    expect(explainGeometry(given, { ...tolerances, ...allowed })).toEqual({ kind: 'unchanged' });
  });
});
