import { describe, expect, it } from 'vitest';
import { mmFromPt } from '../../../src/model/index.ts';
import type { Box } from '../../../src/model/index.ts';
import { placementsOnPage } from '../../../src/reading/pdf/placements.ts';
import type { Placement } from '../../../src/reading/pdf/placement.ts';
import { bookOf, drawing, greyImage, onePage, stream } from './hand-pdf.ts';
import type { HandObjects } from './hand-pdf.ts';

const IMAGE = '/XObject<</Im 9 0 R';

async function placed(
  content: string,
  resources = `${IMAGE}>>`,
  objects: HandObjects = {},
  catalog = '',
): Promise<readonly Placement[]> {
  const file = drawing(content, resources, { 9: greyImage(10, 20), ...objects }, catalog);
  return placementsOnPage(await bookOf(file), 1);
}

/** A box in points from the lower left of the page of 200 x 200 points, as page millimetres. */
const points = (x0: number, y0: number, x1: number, y1: number): Box => ({
  x: mmFromPt(x0),
  y: mmFromPt(200 - y1),
  width: mmFromPt(x1 - x0),
  height: mmFromPt(y1 - y0),
});

const rounded = (box: Box | null): unknown =>
  box === null ? null : [box.x, box.y, box.width, box.height].map((value) => Number(value.toFixed(6)) + 0);

function expectWindows(placements: readonly Placement[], windows: readonly (Box | null)[]): void {
  expect(placements.map(({ window }) => rounded(window))).toEqual(windows.map(rounded));
}

describe('a picture’s window', () => {
  it('is the whole picture where nothing clips it', async () => {
    expectWindows(await placed('q 60 0 0 40 20 30 cm /Im Do Q'), [points(20, 30, 80, 70)]);
  });

  it('is cut by a rectangle, and by a rectangle within it', async () => {
    const content = 'q 10 10 50 50 re W n 30 0 90 90 re W n 100 0 0 100 0 0 cm /Im Do Q';
    expectWindows(await placed(content), [points(30, 10, 60, 60)]);
  });

  it('is whole again after the clip was given back', async () => {
    const content = 'q 0 0 10 10 re W n 40 0 0 40 0 0 cm /Im Do Q 40 0 0 40 0 0 cm /Im Do';
    expectWindows(await placed(content), [points(0, 0, 10, 10), points(0, 0, 40, 40)]);
  });

  it('counts a rectangle with its corner at the other end', async () => {
    expectWindows(await placed('60 60 -50 -50 re W n 100 0 0 100 0 0 cm /Im Do'), [points(10, 10, 60, 60)]);
  });

  it('is cut by the MediaBox, not by the TrimBox', async () => {
    const file = onePage(
      '/MediaBox[0 0 200 200]/TrimBox[20 20 180 180]/Contents 4 0 R/Resources<</XObject<</Im 9 0 R>>>>',
      {
        4: stream('', '300 0 0 100 -50 0 cm /Im Do'),
        9: greyImage(2, 2),
      },
    );
    const [only] = placementsOnPage(await bookOf(file), 1);
    expect(rounded(only!.window)).toEqual(
      rounded({ x: mmFromPt(-20), y: mmFromPt(80), width: mmFromPt(200), height: mmFromPt(100) }),
    );
  });

  it('is nothing where the clip shuts it out or it lies off the sheet', async () => {
    const content = 'q 0 0 10 10 re W n 1 0 0 1 50 50 cm 20 0 0 20 0 0 cm /Im Do Q 20 0 0 20 300 300 cm /Im Do';
    expectWindows(await placed(content), [null, null]);
  });

  it('under a clip turned by 45 degrees is the box around the turned square, cut by the picture', async () => {
    // A square of 40 points stood on its corner at (100, 60): it reaches from 60 to 116.57 points in height.
    const turned = 'q .70710678 .70710678 -.70710678 .70710678 100 60 cm 0 0 40 40 re W n Q';
    const open = turned
      .replace('q ', '')
      .replace(' Q', ' .70710678 -.70710678 .70710678 .70710678 -113.137085 28.284271 cm');
    const half = 40 * Math.SQRT1_2;
    expectWindows(await placed(`q ${open} 200 0 0 200 0 0 cm /Im Do Q`), [
      points(100 - half, 60, 100 + half, 60 + 2 * half),
    ]);
    // A picture over its left half only: the widest place stands at the middle height.
    expectWindows(await placed(`q ${open} 90 0 0 200 0 0 cm /Im Do Q`), [
      points(100 - half, 70, 90, 60 + 2 * half - 10),
    ]);
  });

  it('under a circle is the square around it, and through two circles what both share', async () => {
    const circle = (x: number): string =>
      `${x + 50} 100 m ${x + 50} 127.614237 ${x + 27.614237} 150 ${x} 150 c ` +
      `${x - 27.614237} 150 ${x - 50} 127.614237 ${x - 50} 100 c ${x - 50} 72.385763 ${x - 27.614237} 50 ${x} 50 c ` +
      `${x + 27.614237} 50 ${x + 50} 72.385763 ${x + 50} 100 c h W n`;
    expectWindows(await placed(`${circle(100)} 200 0 0 200 0 0 cm /Im Do`), [points(50, 50, 150, 150)]);
    const [lens] = await placed(`${circle(80)} ${circle(120)} 200 0 0 200 0 0 cm /Im Do`);
    const half = Math.sqrt(50 ** 2 - 20 ** 2);
    expect(lens!.window!.x).toBeCloseTo(mmFromPt(70), 3);
    expect(lens!.window!.width).toBeCloseTo(mmFromPt(60), 3);
    // The circles are flattened: true to a few hundredths of a millimetre.
    expect(Math.abs(lens!.window!.height - mmFromPt(2 * half))).toBeLessThan(0.05);
  });

  it('through two separate holes is the box around both', async () => {
    const content = '10 10 20 20 re 100 50 30 30 re W n 200 0 0 200 0 0 cm /Im Do';
    expectWindows(await placed(content), [points(10, 10, 130, 80)]);
    const left = '10 10 20 20 re 100 50 30 30 re W n 90 0 0 200 0 0 cm /Im Do';
    expectWindows(await placed(left), [points(10, 10, 30, 30)]);
  });

  it('is not touched by a clip that has no path', async () => {
    expectWindows(await placed('W n 40 0 0 40 0 0 cm /Im Do'), [points(0, 0, 40, 40)]);
  });
});

describe('a picture’s matrix', () => {
  it('leads from its top left, y down, to page millimetres', async () => {
    const [only] = await placed('q 72 0 0 36 10 20 cm /Im Do Q');
    const expected = [25.4, 0, 0, 12.7, mmFromPt(10), mmFromPt(200 - 56)];
    expect(only!.matrix.map((value) => Number(value.toFixed(6)) + 0)).toEqual(
      expected.map((value) => Number(value.toFixed(6))),
    );
  });

  it('on a page turned by 90 degrees is turned with it', async () => {
    const file = onePage('/Rotate 90/MediaBox[0 0 200 100]/Contents 4 0 R/Resources<</XObject<</Im 9 0 R>>>>', {
      4: stream('', '72 0 0 36 10 20 cm /Im Do'),
      9: greyImage(2, 2),
    });
    const [only] = placementsOnPage(await bookOf(file), 1);
    // The picture's top edge runs down the page's right-hand side of it.
    expect(only!.matrix.map((value) => Number(value.toFixed(4)) + 0)).toEqual([
      0,
      25.4,
      -12.7,
      0,
      Number(mmFromPt(56).toFixed(4)),
      Number(mmFromPt(10).toFixed(4)),
    ]);
  });
});

describe('a picture is found', () => {
  it('in a form, under the form’s matrix and clipped by its BBox', async () => {
    const form = stream(
      '/Subtype/Form/BBox[0 0 30 30]/Matrix[2 0 0 2 0 0]/Resources<</XObject<</X 9 0 R>>>>',
      '40 0 0 40 10 10 cm /X Do',
    );
    expectWindows(await placed('q 1 0 0 1 50 50 cm /Fm Do Q', '/XObject<</Fm 8 0 R>>', { 8: form }), [
      points(70, 70, 110, 110),
    ]);
  });

  it('in a form without resources, by those of the page', async () => {
    const form = stream('/Subtype/Form/BBox[0 0 30 30]', '10 0 0 10 0 0 cm /Im Do');
    expectWindows(await placed('/Fm Do', `${IMAGE}/Fm 8 0 R>>`, { 8: form }), [points(0, 0, 10, 10)]);
  });

  it('in a form within a form, but once in a form that draws itself', async () => {
    const outer = stream('/Subtype/Form/BBox[0 0 99 99]/Resources<</XObject<</In 8 0 R>>>>', '1 0 0 1 5 5 cm /In Do');
    const inner = stream(
      '/Subtype/Form/BBox[0 0 99 99]/Resources<</XObject<</X 9 0 R/In 8 0 R/Out 7 0 R>>>>',
      '/In Do /Out Do 10 0 0 10 0 0 cm /X Do',
    );
    expectWindows(await placed('/Out Do', '/XObject<</Out 7 0 R>>', { 7: outer, 8: inner }), [points(5, 5, 15, 15)]);
  });

  it('in the content itself, EI among its data and all', async () => {
    const data = 'A EI q \x80 EI\x00zz';
    const content = `q 20 0 0 20 10 10 cm BI /W ${data.length} /H 1 /CS /G /BPC 8 ID ${data} EI Q 5 0 0 5 0 0 cm /Im Do`;
    const placements = await placed(content);
    expect(placements.map(({ origin }) => origin)).toEqual(['inline-image', 'image']);
    expect(Buffer.from(placements[0]!.coded()).toString('latin1')).toBe(data);
    expectWindows(placements, [points(10, 10, 30, 30), points(0, 0, 5, 5)]);
  });

  it('as a stencil', async () => {
    const stencil = stream('/Subtype/Image/Width 8/Height 1/ImageMask true', '\xaa');
    const [only] = await placed('20 0 0 20 0 0 cm /St Do', '/XObject<</St 8 0 R>>', { 8: stencil });
    expect(only!.origin).toBe('stencil-mask');
  });

  it('in a pattern’s cell, once for the area, its window the picture under the area', async () => {
    const cell = stream(
      '/PatternType 1/PaintType 1/TilingType 1/BBox[0 0 100 100]/XStep 100/YStep 100/Matrix[1 0 0 1 20 20]/Resources<</XObject<</X 9 0 R>>>>',
      '100 0 0 100 0 0 cm /X Do',
    );
    const placements = await placed('/Pattern cs /P scn 50 50 40 30 re f', '/Pattern<</P 8 0 R>>', { 8: cell });
    expectWindows(placements, [points(50, 50, 90, 80)]);
    expect(placements.map(({ inPatternOrMask, outline }) => [inPatternOrMask, rounded(boxOf(outline))])).toEqual([
      [true, rounded(points(20, 20, 120, 120))],
    ]);
  });

  it('in a pattern that repeats: its window is the area filled', async () => {
    const cell = stream(
      '/PatternType 1/PaintType 1/TilingType 1/BBox[0 0 10 10]/XStep 10/YStep 10/Resources<</XObject<</X 9 0 R>>>>',
      '8 0 0 8 1 1 cm /X Do',
    );
    const placements = await placed('/Pattern cs /P scn 50 50 40 30 re f', '/Pattern<</P 8 0 R>>', { 8: cell });
    expectWindows(placements, [points(50, 50, 90, 80)]);
  });

  it('in a soft mask’s group, and what is drawn under the mask is soft-masked', async () => {
    const group = stream('/Subtype/Form/BBox[0 0 200 200]/Resources<</XObject<</X 9 0 R>>>>', '50 0 0 50 0 0 cm /X Do');
    const resources = `${IMAGE}>>/ExtGState<</On 7 0 R/Off<</SMask/None>>>>`;
    const objects = { 7: '<</SMask<</S/Luminosity/G 8 0 R>>>>', 8: group };
    const content = '/On gs q 40 0 0 40 100 100 cm /Im Do Q /Off gs 10 0 0 10 0 0 cm /Im Do';
    const placements = await placed(content, resources, objects);
    expect(placements.map(({ softMasked, inPatternOrMask }) => [softMasked, inPatternOrMask])).toEqual([
      [false, true],
      [true, false],
      [false, false],
    ]);
    expectWindows(placements, [points(0, 0, 50, 50), points(100, 100, 140, 140), points(0, 0, 10, 10)]);
  });

  it('in a printed stamp, scaled into its rectangle', async () => {
    const stamp = stream('/Subtype/Form/BBox[0 0 10 10]/Resources<</XObject<</X 9 0 R>>>>', '10 0 0 10 0 0 cm /X Do');
    const annotation = '<</Subtype/Stamp/F 4/Rect[100 100 150 120]/AP<</N 8 0 R>>>>';
    const file = onePage('/MediaBox[0 0 200 200]/Annots[7 0 R]', { 7: annotation, 8: stamp, 9: greyImage(2, 2) });
    expectWindows(placementsOnPage(await bookOf(file), 1), [points(100, 100, 150, 120)]);
  });
});

describe('a picture is not counted', () => {
  const layers = '/OCProperties<</OCGs[6 0 R 7 0 R]/D<</OFF[6 0 R]>>>>';
  const groups = { 6: '<</Type/OCG/Name(off)>>', 7: '<</Type/OCG/Name(on)>>' };

  it('on a layer that is switched off', async () => {
    const content = '/OC /Off BDC q 9 0 0 9 0 0 cm /Im Do Q EMC /OC /On BDC 8 0 0 8 0 0 cm /Im Do EMC';
    const resources = `${IMAGE}>>/Properties<</Off 6 0 R/On 7 0 R>>`;
    expectWindows(await placed(content, resources, groups, layers), [points(0, 0, 8, 8)]);
  });

  it('on such a layer of its own, or of its form, or by a rule over layers', async () => {
    const objects = {
      ...groups,
      8: greyImage(2, 2, 1, '/OC 6 0 R'),
      10: stream('/Subtype/Form/BBox[0 0 9 9]/OC 11 0 R/Resources<</XObject<</X 9 0 R>>>>', '9 0 0 9 0 0 cm /X Do'),
      11: '<</Type/OCMD/OCGs[6 0 R 7 0 R]/P/AllOn>>',
      12: '<</Type/OCMD/VE[/And[/Not 6 0 R]7 0 R]>>',
    };
    const resources = `${IMAGE}/Own 8 0 R/Form 10 0 R>>/Properties<</Rule 12 0 R>>`;
    const content = 'q 7 0 0 7 0 0 cm /Own Do Q /Form Do /OC /Rule BDC 6 0 0 6 0 0 cm /Im Do EMC';
    expectWindows(await placed(content, resources, objects, layers), [points(0, 0, 6, 6)]);
  });

  it('on the screen only: an annotation without the flag Print', async () => {
    const stamp = stream('/Subtype/Form/BBox[0 0 10 10]/Resources<</XObject<</X 9 0 R>>>>', '10 0 0 10 0 0 cm /X Do');
    const annotation = '<</Subtype/Stamp/F 0/Rect[100 100 150 120]/AP<</N 8 0 R>>>>';
    const file = onePage('/MediaBox[0 0 200 200]/Annots[7 0 R]', { 7: annotation, 8: stamp, 9: greyImage(2, 2) });
    expect(placementsOnPage(await bookOf(file), 1)).toEqual([]);
  });
});

describe('faulty content is read as far as it makes sense', () => {
  it.each([
    ['a Q too many', 'Q Q 10 0 0 10 0 0 cm /Im Do'],
    ['a q too many', 'q q q 10 0 0 10 0 0 cm /Im Do'],
    ['an operator that nobody knows', '1 2 frobnicate 10 0 0 10 0 0 cm /Im Do'],
    ['an operator with too little before it', '1 0 cm 5 re W n 10 0 0 10 0 0 cm /Im Do'],
    ['a name that stands for nothing', '/Nobody Do /Nothing gs /None cs 10 0 0 10 0 0 cm /Im Do'],
    ['stray brackets', '] >> ) } 10 0 0 10 0 0 cm /Im Do'],
    ['a number with two signs', '10 0 0 10 0 --0 cm /Im Do'],
    ['an EMC too many', 'EMC 10 0 0 10 0 0 cm /Im Do'],
    ['a string without its end', '10 0 0 10 0 0 cm /Im Do (never closed'],
    ['an array without its end', '10 0 0 10 0 0 cm /Im Do [1 2'],
    ['a picture in the content without its end', '10 0 0 10 0 0 cm /Im Do q 0 0 0 0 0 0 cm BI /W 9 /H 9 ID abc'],
  ])('%s', async (_, content) => {
    expectWindows((await placed(content)).slice(0, 1), [points(0, 0, 10, 10)]);
  });

  it('a token that is cut between two streams falls apart there', async () => {
    const page = '/MediaBox[0 0 200 200]/Contents[4 0 R 5 0 R]/Resources<</XObject<</Im 9 0 R>>>>';
    const file = onePage(page, { 4: stream('', '10 0 0 1'), 5: stream('', '0 0 0 cm /Im Do'), 9: greyImage(2, 2) });
    // As two tokens: 10 0 0 1 0 0 0 cm, of which the last six count.
    const [only] = placementsOnPage(await bookOf(file), 1);
    expect(only!.window).toBeNull();
  });

  it('a page without resources', async () => {
    const file = onePage('/MediaBox[0 0 200 200]/Contents 4 0 R', { 4: stream('', '/Im Do /F 1 Tf BT (x) Tj ET') });
    expect(placementsOnPage(await bookOf(file), 1)).toEqual([]);
  });
});

function boxOf(outline: Placement['outline']): Box {
  const xs = outline.map(({ x }) => x);
  const ys = outline.map(({ y }) => y);
  const [x, y] = [Math.min(...xs), Math.min(...ys)];
  return { x, y, width: Math.max(...xs) - x, height: Math.max(...ys) - y };
}
