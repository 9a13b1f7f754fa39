import { describe, expect, it } from 'vitest';
import { UNCHANGED } from '../../../src/comparing/conversion/colour-map.ts';
import { preparePage } from '../../../src/comparing/page-sides.ts';
import type { PictureJudgement } from '../../../src/comparing/pictures/judge-picture.ts';
import { judgePicture } from '../../../src/comparing/pictures/judge-picture.ts';
import type { Box, Finding } from '../../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import type { Scene } from '../made-up-scenes.ts';
import { carried, even, photograph, recoloured, withPatch } from '../made-up-scenes.ts';
import type { SketchedPicture } from '../sketched-page.ts';
import { drawPage } from '../sketched-page.ts';

const WINDOW: Box = { x: 10, y: 8, width: 40, height: 30 };
const MIDDLE = { centreX: 30, centreY: 23 };
const scene = photograph(3);

function judge(revision: Partial<SketchedPicture>, covers: readonly Box[] = []): PictureJudgement {
  const dummySide = preparePage(drawPage({ pictures: [{ window: WINDOW, scene }], pageNumber: 4 }));
  const revisionSide = preparePage(drawPage({ pictures: [{ window: WINDOW, scene, ...revision }], pageNumber: 6 }));
  const [dummyPicture, revisionPicture] = [dummySide.pictures[0]!, revisionSide.pictures[0]!];
  const task = { dummy: dummySide, revision: revisionSide, dummyPicture, revisionPicture, covers };
  return judgePicture({ ...task, bookConversion: UNCHANGED }, DEFAULT_TOLERANCES);
}

const kinds = ({ findings }: PictureJudgement) => findings.map(({ kind, weight }) => `${kind}, ${weight}`);
const only = ({ findings }: PictureJudgement): Finding => {
  expect(findings).toHaveLength(1);
  return findings[0]!;
};

describe('a picture judged against the dummy', () => {
  it('has no findings where it is the same, and its area counts for the colours of the page', () => {
    const { findings, colour } = judge({});
    expect(findings).toEqual([]);
    expect(colour!.areaMm2).toBe(1200);
    expect(colour!.meanDeltaE00).toBeCloseTo(0, 2);
  });

  it('is judged on both of its pages and in both of its places', () => {
    const window = { ...WINDOW, x: 13 };
    expect(only(judge({ window, scene: carried(scene, { shiftX: 3 }) }))).toMatchObject({
      kind: 'picture-moved',
      dummyPage: 4,
      revisionPage: 6,
      box: WINDOW,
      revisionBox: window,
    });
  });

  it.each<[string, Partial<SketchedPicture>, string]>([
    ['mirrored', { scene: carried(scene, { ...MIDDLE, mirrored: true }) }, 'picture-mirrored, stop'],
    ['upside down', { scene: carried(scene, { ...MIDDLE, turnDeg: 180 }) }, 'picture-turned, stop'],
    ['askew by 0.8 degrees', { scene: carried(scene, { ...MIDDLE, turnDeg: 0.8 }) }, 'picture-turned, stop'],
    ['slid by 0.6 mm', { scene: carried(scene, { shiftX: 0.6 }) }, 'crop-altered, look'],
    ['slid by 1.5 mm', { scene: carried(scene, { shiftY: 1.5 }) }, 'crop-altered, stop'],
    ['enlarged by 2 % in its frame', { scene: carried(scene, { ...MIDDLE, scale: 1.02 }) }, 'crop-altered, look'],
    ['cut by 2 mm at an edge', { window: { ...WINDOW, width: 38 } }, 'crop-altered, stop'],
    [
      'moved by half a millimetre with its frame',
      { window: { ...WINDOW, x: 10.5 }, scene: carried(scene, { shiftX: 0.5 }) },
      'picture-moved, look',
    ],
    [
      'enlarged with its frame',
      { window: { x: 8, y: 6.5, width: 44, height: 33 }, scene: carried(scene, { ...MIDDLE, scale: 1.1 }) },
      'picture-resized, stop',
    ],
    [
      'retouched',
      { scene: withPatch(scene, { x: 25, y: 20, width: 6, height: 6 }, even(210, 30, 30)) },
      'picture-retouched, stop',
    ],
    [
      'a negative',
      { scene: recoloured(scene, ([r, g, b]) => [255 - r, 255 - g, 255 - b]) },
      'picture-recoloured, stop',
    ],
    [
      'with a yellow cast',
      { scene: recoloured(scene, ([r, g, b]) => [r + 12, g + 4, b - 32]) },
      'picture-recoloured, stop',
    ],
  ])('%s has that one finding', (_, revision, expected) => {
    expect(kinds(judge(revision))).toEqual([expected]);
  });

  it('is not claimed to have moved by grain, compression and a conversion together', () => {
    const converted: Scene = recoloured(scene, ([r, g, b]) => [30 + 0.82 * r, 30 + 0.82 * g, 26 + 0.82 * b]);
    expect(judge({ scene: converted }).findings).toEqual([]);
  });

  it('that slid and was retouched has both findings, where the dummy shows it', () => {
    const retouched = withPatch(scene, { x: 25, y: 20, width: 6, height: 6 }, even(210, 30, 30));
    const { findings } = judge({ scene: carried(retouched, { shiftX: 2 }) });
    expect(findings.map(({ kind }) => kind)).toEqual(['crop-altered', 'picture-retouched']);
    const box = findings[1]!.box!;
    expect(Math.abs(box.x + box.width / 2 - 28)).toBeLessThan(0.7);
    expect(Math.abs(box.y + box.height / 2 - 23)).toBeLessThan(0.7);
  });
});

describe('another picture in the place', () => {
  it('is told by how like it is, and by nothing else: here another frame of the scene, with people elsewhere', () => {
    const frame = [14, 21, 28, 35, 42].reduce<Scene>(
      (shown, x) => withPatch(shown, { x, y: 15, width: 4, height: 14 }, even(30, 40, 90)),
      scene,
    );
    const finding = only(judge({ scene: frame })) as Extract<Finding, { kind: 'picture-replaced' }>;
    const { measured, says, ...rest } = finding;
    expect(rest).toEqual({
      kind: 'picture-replaced',
      weight: 'stop',
      dummyPage: 4,
      revisionPage: 6,
      box: WINDOW,
      revisionBox: WINDOW,
    });
    expect(measured.likeness).toBeGreaterThan(0);
    expect(measured.likeness).toBeLessThan(0.99);
    expect(says).toBe(`Another picture stands in this place (likeness ${measured.likeness.toFixed(2)} of 1).`);
  });
});

describe('a picture that is covered', () => {
  it('by type on nine tenths of it is not judged', () => {
    const everything = { x: 0, y: 0, width: 64, height: 50 };
    expect(judge({ scene: photograph(70) }, [everything])).toEqual({ findings: [], colour: null, map: null });
  });

  it('is not judged under what covers it', () => {
    const part = { x: 25, y: 20, width: 6, height: 6 };
    const stamped = withPatch(scene, part, even(210, 30, 30));
    expect(judge({ scene: stamped }, [{ x: 24, y: 19, width: 8, height: 8 }]).findings).toEqual([]);
  });
});
