import { describe, expect, it } from 'vitest';
import { compareArtwork } from '../../src/comparing/artwork.ts';
import { fitBookConversion } from '../../src/comparing/conversion/book-conversion.ts';
import type { ColourMap } from '../../src/comparing/conversion/colour-map.ts';
import { UNCHANGED } from '../../src/comparing/conversion/colour-map.ts';
import { preparePage } from '../../src/comparing/page-sides.ts';
import type { Box, Finding } from '../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import type { Patch, Rgb } from './made-up-scenes.ts';
import { even } from './made-up-scenes.ts';
import { pictureSignature, recolour } from './pairing/made-up-pages.ts';
import { drawPage } from './sketched-page.ts';

const SIZE = { width: 50, height: 36 };
const area = (x: number, y: number, width: number, height: number, colour: Rgb = [0, 0, 0]): Patch => ({
  box: { x, y, width, height },
  scene: even(...colour),
});
const hairline = (y: number, width = 0.15) => area(8, y, 32, width);

interface Given {
  readonly explained?: readonly Box[];
  readonly conversion?: ColourMap;
  readonly tolerances?: Partial<typeof DEFAULT_TOLERANCES>;
}

function compare(dummy: readonly Patch[], revision: readonly Patch[], given: Given = {}): readonly Finding[] {
  const { explained = [], conversion = UNCHANGED, tolerances = {} } = given;
  const sides = {
    dummy: preparePage(drawPage({ size: SIZE, artwork: dummy, pageNumber: 3 })),
    revision: preparePage(drawPage({ size: SIZE, artwork: revision, pageNumber: 5 })),
  };
  return compareArtwork(sides, explained, conversion, { ...DEFAULT_TOLERANCES, ...tolerances });
}

/** Whether one box lies within another and its rim of a pixel and a half. */
const isAround = (outer: Box | null, inner: Box, rimMm = 0.4) =>
  outer !== null &&
  Math.abs(outer.x - inner.x) < rimMm &&
  Math.abs(outer.y - inner.y) < rimMm &&
  Math.abs(outer.x + outer.width - inner.x - inner.width) < rimMm &&
  Math.abs(outer.y + outer.height - inner.y - inner.height) < rimMm;

describe('something drawn on the page', () => {
  it('that is gone stops the plates, in its place on both pages', () => {
    const [finding, ...others] = compare([area(12, 10, 6, 4, [40, 80, 160])], []);
    expect(others).toEqual([]);
    const { box, revisionBox, measured, says, ...rest } = finding as Extract<Finding, { kind: 'artwork-changed' }>;
    expect(rest).toEqual({ kind: 'artwork-changed', weight: 'stop', dummyPage: 3, revisionPage: 5 });
    expect(isAround(box, { x: 12, y: 10, width: 6, height: 4 })).toBe(true);
    expect(revisionBox).toEqual(box);
    expect(measured.areaMm2).toBeGreaterThan(23);
    expect(measured.areaMm2).toBeLessThan(30);
    expect(says).toMatch(
      /^Something drawn on the page changed: \d\d\.\d mm² in a place of \d\.\d mm by \d\.\d mm, 1\d\.\d mm from the left and \d+\.\d mm from the top\.$/,
    );
  });

  it.each<[string, readonly Patch[], readonly Patch[]]>([
    ['a hairline that is gone', [hairline(15)], []],
    ['a hairline of a tenth of a millimetre and 6 mm length that is gone', [area(8, 15, 6, 0.1)], []],
    ['a grey hairline that is gone', [area(8, 15, 32, 0.1, [120, 120, 120])], []],
    ['a rule more', [], [area(20, 5, 0.3, 20)]],
    ['a hairline that moved by 1 mm', [hairline(15)], [hairline(16)]],
    ['a hairline that moved by half a millimetre', [hairline(15)], [hairline(15.5)]],
    ['a tint of another colour', [area(8, 6, 30, 20, [230, 240, 200])], [area(8, 6, 30, 20, [200, 220, 240])]],
    ['a tint that is gone', [area(8, 6, 30, 20, [215, 205, 190])], []],
    ['a black that became grey', [area(8, 6, 30, 20)], [area(8, 6, 30, 20, [110, 110, 110])]],
  ])('%s is one finding', (_, dummy, revision) => {
    expect(compare(dummy, revision).map(({ kind }) => kind)).toEqual(['artwork-changed']);
    expect(compare(revision, dummy).map(({ kind }) => kind)).toEqual(['artwork-changed']);
  });

  it('in places that lie near each other is one finding, in places far apart one each', () => {
    const [corner, beside, far] = [area(5, 5, 3, 3), area(10, 6, 3, 3), area(40, 28, 3, 3)];
    expect(compare([corner, beside, far], []).map(({ box }) => Math.round(box!.width))).toEqual([8, 3]);
  });

  it('is found by the whole area of a tint that changed', () => {
    const found = compare([area(10, 8, 30, 20, [120, 60, 60])], [area(10, 8, 30, 20, [60, 120, 60])]);
    expect(found).toHaveLength(1);
    const { areaMm2 } = found[0]!.measured as { areaMm2: number };
    expect(areaMm2 / 600).toBeGreaterThan(0.97);
    expect(areaMm2 / 600).toBeLessThan(1.06);
  });
});

describe('artwork stays silent', () => {
  it.each<[string, readonly Patch[], readonly Patch[]]>([
    ['where nothing is drawn', [], []],
    [
      'where it is the same',
      [hairline(15), area(8, 20, 20, 8, [90, 120, 60])],
      [hairline(15), area(8, 20, 20, 8, [90, 120, 60])],
    ],
    [
      'where a tint sits four tenths of a pixel off',
      [area(8, 6, 30, 20, [80, 120, 200])],
      [area(8.1, 6.1, 30, 20, [80, 120, 200])],
    ],
    ['where a rule of half a millimetre sits six tenths of a pixel off', [hairline(15, 0.5)], [hairline(15.15, 0.5)]],
    [
      'where a tint was converted by a few units',
      [area(8, 6, 30, 20, [230, 240, 200])],
      [area(8, 6, 30, 20, [226, 236, 199])],
    ],
    ['where a spot is smaller than a hairline of 5 mm', [area(20, 15, 0.3, 0.3, [120, 120, 120])], []],
  ])('%s', (_, dummy, revision) => {
    expect(compare(dummy, revision)).toEqual([]);
    expect(compare(revision, dummy)).toEqual([]);
  });

  it.each([0, 0.05, 0.1, 0.15, 0.2])(
    'where a hairline is rounded by a hundredth of a millimetre, %s mm beside a pixel',
    (part) => {
      expect(compare([hairline(15 + part)], [hairline(15.01 + part)])).toEqual([]);
    },
  );

  it('in places that pictures and text account for', () => {
    const stamp = area(20, 12, 6, 6, [200, 30, 30]);
    expect(compare([stamp], [], { explained: [{ x: 19.5, y: 11.5, width: 7, height: 7 }] })).toEqual([]);
    const half = compare([stamp], [], { explained: [{ x: 19.5, y: 11.5, width: 3.5, height: 7 }] });
    expect(half.map(({ box }) => isAround(box, { x: 23, y: 12, width: 3, height: 6 }))).toEqual([true]);
  });

  it('where the conversion of the whole book explains a tint, and where the file left that tint as it was', () => {
    const strong = ([r, g, b]: readonly number[]) => [30 + 0.8 * r!, 30 + 0.8 * g!, 10 + 0.72 * b!];
    const pages = Array.from({ length: 10 }, (_, at) => pictureSignature(at));
    const conversion = fitBookConversion(pages.map((dummy) => ({ dummy, revision: recolour(dummy, strong) })));
    const colours: Rgb[] = [
      [40, 60, 120],
      [150, 60, 50],
      [120, 140, 90],
    ];
    const [tints, converted, other] = [
      (rgb: Rgb) => rgb,
      (rgb: Rgb) => strong(rgb) as unknown as Rgb,
      ([r, g, b]: Rgb): Rgb => [r, g + 60, b],
    ].map((change) => colours.map((rgb, at) => area(4 + 15 * at, 8, 12, 12, change(rgb))));
    expect(compare(tints!, converted!)).not.toEqual([]);
    expect(compare(tints!, converted!, { conversion })).toEqual([]);
    expect(compare(tints!, tints!, { conversion })).toEqual([]);
    expect(compare(tints!, other!, { conversion }).length).toBeGreaterThan(0);
  });
});

describe('the tolerances decide', () => {
  const tint = [area(8, 6, 10, 10, [150, 150, 150])];
  const darker = [area(8, 6, 10, 10, [100, 100, 100])];
  it.each([
    ['how large a change must be', { artworkMm2: 150 }],
    ['how strong it must be', { artworkDeltaE: 60 }],
  ])('%s', (_, tolerances) => {
    expect(compare(tint, darker)).toHaveLength(1);
    expect(compare(tint, darker, { tolerances })).toEqual([]);
  });
});
