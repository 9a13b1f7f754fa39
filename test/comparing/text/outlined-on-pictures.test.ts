import { describe, expect, it } from 'vitest';
import { preparePage } from '../../../src/comparing/page-sides.ts';
import type { TextComparison } from '../../../src/comparing/text/compare-text.ts';
import { compareText } from '../../../src/comparing/text/compare-text.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import type { Scene } from '../made-up-scenes.ts';
import { even, photograph } from '../made-up-scenes.ts';
import type { TypeLine } from '../set-type.ts';
import type { PageSketch } from '../sketched-page.ts';
import { drawFine, drawPage } from '../sketched-page.ts';

const SIZE = { width: 60, height: 34 };
const OVER = { x: 2, y: 2, width: 56, height: 30 };
const TEXT = ['der alte hafen von riva', 'am abend im september'];

const set = (texts: readonly string[], given: Partial<TypeLine> = {}): TypeLine[] =>
  texts.map((text, at) => ({ text, x: 5, baseline: 12 + 6 * at, ink: even(255, 255, 255), ...given }));

/** The dummy tells its words, the revision has outlines; both on a picture. */
function compare(texts: readonly string[], scenes: readonly [Scene, Scene], isFine = true): TextComparison {
  const page = (scene: Scene, type: PageSketch): PageSketch => ({
    size: SIZE,
    pictures: [{ window: OVER, scene }],
    ...type,
  });
  const dummy = page(scenes[0], { lines: set(TEXT) });
  const revision = page(scenes[1], { outlined: set(texts) });
  const sides = { dummy: preparePage(drawPage(dummy)), revision: preparePage(drawPage(revision)) };
  return compareText(sides, isFine ? drawFine(dummy, revision) : null, [OVER], DEFAULT_TOLERANCES);
}

const dark =
  (scene: Scene, add = 0): Scene =>
  (x, y) => {
    const [r, g, b] = scene(x, y);
    return [r * 0.4 + add, g * 0.4 + add, b * 0.4 + add];
  };
const PICTURE = dark(photograph(3));
const says = ({ findings }: TextComparison) => findings.map((finding) => finding.says);

describe('outlined type on a picture that both files show alike', () => {
  it('asks for fine drawings', () => {
    expect(compare(TEXT, [PICTURE, PICTURE], false)).toMatchObject({ findings: [], wantsFine: true });
  });

  it('is the same where its letters are', () => {
    expect(compare(TEXT, [PICTURE, PICTURE])).toMatchObject({ findings: [], wantsFine: false });
    expect(says(compare(TEXT, [PICTURE, dark(photograph(3), 3)]))).toEqual([]);
  });

  it('is told where a letter changed', () => {
    expect(says(compare([TEXT[0]!, 'am abend im septamber'], [PICTURE, PICTURE]))).toEqual([
      'The type looks different (its shapes): “september”.',
    ]);
    expect(says(compare([TEXT[0]!, 'am abend im septamber'], [PICTURE, dark(photograph(3), 3)]))).toEqual([
      'The type looks different (its shapes): “september”.',
    ]);
  });
});

describe('outlined type on a picture that was prepared in another way', () => {
  it('is not judged by its letters, and no fine drawings are asked for', () => {
    const lighter = dark(photograph(3), 14);
    expect(compare(TEXT, [PICTURE, lighter], false)).toMatchObject({ findings: [], wantsFine: false });
    expect(says(compare(TEXT, [PICTURE, lighter]))).toEqual([]);
  });
});
