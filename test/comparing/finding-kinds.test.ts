import { describe, expect, it } from 'vitest';
import { comparePages, tellCoarsePictures } from '../../src/comparing/index.ts';
import { UNCHANGED } from '../../src/comparing/conversion/colour-map.ts';
import { tellOrderFindings } from '../../src/comparing/pairing/order-findings.ts';
import type { PairedPages, Pairing } from '../../src/comparing/index.ts';
import type { Finding, FindingKind } from '../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import type { Scene } from './made-up-scenes.ts';
import { carried, even, photograph, recoloured, withPatch } from './made-up-scenes.ts';
import type { PageSketch, SketchedPicture } from './sketched-page.ts';
import { drawPage, pictureFacts } from './sketched-page.ts';

const SIZE = { width: 44, height: 34 };
const WINDOW = { x: 6, y: 4, width: 30, height: 20 };
const MIDDLE = { centreX: 21, centreY: 14 };
const scene = photograph(3, 3);
const picture: SketchedPicture = { window: WINDOW, scene };
const line = { text: 'am hafen', x: 6, baseline: 30 };
const page: PageSketch = { size: SIZE, pictures: [picture], lines: [line] };

/** What comparing the page of the dummy with this one finds. */
function against(revision: Partial<PageSketch>): readonly Finding[] {
  const drawn = { dummy: drawPage(page), revision: drawPage({ ...page, ...revision }), fine: null };
  return comparePages({ ...drawn, bookConversion: UNCHANGED }, DEFAULT_TOLERANCES).findings;
}
const showing = (given: Partial<SketchedPicture>) => against({ pictures: [{ ...picture, ...given }] });

const paired: PairedPages = { dummyPage: 1, revisionPage: 1, by: 'likeness', turnedDeg: 0, emptied: false };
const ordered = (given: Partial<Pairing>) =>
  tellOrderFindings({ pairs: [paired], missing: [], added: [], repeated: [], moved: [], ...given });

/** Another frame of the scene: five people stand elsewhere. */
const otherFrame = [8, 13, 18, 23, 28].reduce<Scene>(
  (shown, x) => withPatch(shown, { x, y: 9, width: 2.5, height: 8 }, even(30, 40, 90)),
  scene,
);

/** Coarse among fine ones. */
function coarse(): readonly Finding[] {
  const pictures = [300, 300, 90].map((effectivePpi) => ({ ...pictureFacts(WINDOW), effectivePpi }));
  const one = { pageNumber: 1, trimmed: SIZE, pictures };
  return tellCoarsePictures([{ page: one, dummyPage: 1, sameContent: false }], 'compare', DEFAULT_TOLERANCES);
}

/** The least that brings each kind about; a kind that is not in the table does not compile. */
const PROVOKED: Readonly<Record<FindingKind, () => readonly Finding[]>> = {
  'page-moved': () => ordered({ moved: [{ dummyPage: 1, revisionPage: 1, fromPosition: 3, toPosition: 1 }] }),
  'page-missing': () => ordered({ missing: [2] }),
  'page-added': () => ordered({ added: [2] }),
  'page-repeated': () => ordered({ repeated: [{ dummyPage: 1, revisionPage: 2, firstAt: 1 }] }),
  'page-emptied': () => ordered({ pairs: [{ ...paired, emptied: true }] }),
  'page-resized': () => against({ size: { width: 43, height: 34 } }),
  'page-turned': () => ordered({ pairs: [{ ...paired, turnedDeg: 90 }] }),
  // Told by the room that reads: what cannot be read cannot be compared.
  'page-unreadable': () => [],
  // Told by the archive, which knows the earlier files: test/archive/checking/older-pages.test.ts brings it about.
  'page-outdated': () => [],
  // Told of sheets, before their pages are compared: test/archive/sheets brings each about.
  'page-in-wrong-cell': () => [],
  'pages-exchanged': () => [],
  'sides-exchanged': () => [],
  'section-out-of-order': () => [],
  'collating-mark-off': () => [],
  'back-out-of-register': () => [],
  'page-off-place': () => [],
  'creep-off-plan': () => [],
  'separation-missing': () => [],
  'separation-doubled': () => [],
  'separation-of-another-sheet': () => [],
  'inks-exchanged': () => [],
  'separation-out-of-register': () => [],
  'separation-empty': () => [],
  'screen-coarse': () => [],
  'picture-missing': () => against({ pictures: [] }),
  'picture-added': () =>
    against({ pictures: [picture, { window: { x: 30, y: 26, width: 8, height: 7 }, scene: photograph(9, 2) }] }),
  'picture-replaced': () => showing({ scene: otherFrame }),
  'picture-moved': () => showing({ window: { ...WINDOW, x: 8 }, scene: carried(scene, { shiftX: 2 }) }),
  'picture-resized': () =>
    showing({ window: { x: 4.5, y: 3, width: 33, height: 22 }, scene: carried(scene, { ...MIDDLE, scale: 1.1 }) }),
  'crop-altered': () => showing({ scene: carried(scene, { shiftX: 2 }) }),
  'picture-turned': () => showing({ scene: carried(scene, { ...MIDDLE, turnDeg: 2 }) }),
  'picture-mirrored': () => showing({ scene: carried(scene, { ...MIDDLE, mirrored: true }) }),
  'picture-retouched': () =>
    showing({ scene: withPatch(scene, { x: 18, y: 10, width: 5, height: 5 }, even(210, 20, 30)) }),
  'picture-recoloured': () => showing({ scene: recoloured(scene, ([r, g, b]) => [255 - r, 255 - g, 255 - b]) }),
  'picture-coarse': coarse,
  'text-changed': () => against({ lines: [{ ...line, text: 'am haken' }] }),
  'artwork-changed': () =>
    against({ artwork: [{ box: { x: 38, y: 4, width: 4, height: 20 }, scene: even(60, 90, 160) }] }),
};
const ELSEWHERE: readonly FindingKind[] = [
  'page-unreadable',
  'page-outdated',
  'page-in-wrong-cell',
  'pages-exchanged',
  'sides-exchanged',
  'section-out-of-order',
  'collating-mark-off',
  'back-out-of-register',
  'page-off-place',
  'creep-off-plan',
  'separation-missing',
  'separation-doubled',
  'separation-of-another-sheet',
  'inks-exchanged',
  'separation-out-of-register',
  'separation-empty',
  'screen-coarse',
];

describe('every kind of finding', () => {
  const kinds = Object.keys(PROVOKED) as FindingKind[];

  it.each(kinds.filter((kind) => !ELSEWHERE.includes(kind)))(
    '%s is brought about, once and alone, in one sentence',
    (kind) => {
      const found = PROVOKED[kind]();
      expect(found.map((finding) => finding.kind)).toEqual([kind]);
      expect(found[0]!.says).toMatch(/^[A-Z“].*[.?]$/);
      expect(found[0]!.says).not.toMatch(/NaN|Infinity|undefined|null|\s\s/);
    },
  );

  it('and the page it was compared with itself has none', () => {
    expect(against({})).toEqual([]);
  });
});
