import { describe, expect, it } from 'vitest';
import type { GeometryChange } from '../../../src/comparing/pictures/explain-geometry.ts';
import { describeShift, formatMm, sayGeometry } from '../../../src/comparing/pictures/picture-sentences.ts';

const crop = (given: Partial<Extract<GeometryChange, { kind: 'crop-altered' }>>) =>
  ({
    kind: 'crop-altered',
    shiftXmm: 0,
    shiftYmm: 0,
    scale: 1,
    cutMm: { left: 0, right: 0, top: 0, bottom: 0 },
    edgesOnly: false,
    ...given,
  }) as const;

describe('lengths in sentences', () => {
  it.each([
    [12.345, '12.3 mm'],
    [-1.26, '1.3 mm'],
    [1, '1.0 mm'],
    [0.4567, '0.46 mm'],
    [-0.05, '0.05 mm'],
    [0, '0.00 mm'],
  ])('%s is written %s', (length, expected) => expect(formatMm(length)).toBe(expected));

  it.each([
    [1.2, 0.4, '1.2 mm to the right and 0.40 mm down'],
    [-3, -0.25, '3.0 mm to the left and 0.25 mm up'],
    [2, 0.01, '2.0 mm to the right'],
    [0.02, -7, '7.0 mm up'],
    [-0.05, 0.05, '0.05 mm to the left and 0.05 mm down'],
    [0.01, 0.02, 'nowhere'],
  ])('a shift by %s and %s reads "%s"', (x, y, expected) => expect(describeShift(x, y)).toBe(expected));
});

describe('what became of a picture reads', () => {
  it.each<[string, GeometryChange]>([
    ['The picture stands as it stood.', { kind: 'unchanged' }],
    ['The picture is mirrored: left and right are exchanged.', { kind: 'picture-mirrored', axis: 'horizontal' }],
    ['The picture is mirrored: top and bottom are exchanged.', { kind: 'picture-mirrored', axis: 'vertical' }],
    ['The picture is turned by 1.5 degrees clockwise.', { kind: 'picture-turned', degrees: 1.5 }],
    ['The picture is turned by 90.0 degrees anticlockwise.', { kind: 'picture-turned', degrees: -90 }],
    [
      'The picture moved with its frame, 3.0 mm to the right and 0.50 mm up.',
      { kind: 'picture-moved', shiftXmm: 3, shiftYmm: -0.5 },
    ],
    ['The picture is printed at 108.5 % of its size in the dummy.', { kind: 'picture-resized', scale: 1.085 }],
  ])('"%s"', (expected, change) => expect(sayGeometry(change, 0.1, 'pixels')).toBe(expected));

  it.each<[string, GeometryChange]>([
    [
      'The picture is cropped differently: its content sits 2.0 mm to the right of where it was (±0.12 mm); lost: 2.0 mm at the right; more shows: 2.0 mm at the left.',
      crop({ shiftXmm: 2, cutMm: { left: -2, right: 2, top: 0, bottom: 0.1 } }),
    ],
    [
      'The picture is cropped differently: it is scaled to 125.0 %; lost: 10.0 mm at the left, 10.0 mm at the right, 8.0 mm at the top, 8.0 mm at the bottom.',
      crop({ scale: 1.25, cutMm: { left: 10, right: 10, top: 8, bottom: 8 } }),
    ],
    [
      "The picture is cropped differently: the window's edges moved while the content stands; lost: 3.0 mm at the right.",
      crop({ edgesOnly: true, shiftXmm: 0.1, cutMm: { left: 0, right: 3, top: 0, bottom: 0 } }),
    ],
    [
      'The picture is cropped differently: its content sits 0.60 mm down of where it was (±0.12 mm); it is scaled to 98.0 %.',
      crop({ shiftYmm: 0.6, scale: 0.98 }),
    ],
  ])('"%s"', (expected, change) => expect(sayGeometry(change, 0.12, 'pixels')).toBe(expected));

  it('names an edge from two tenths of a millimetre on', () => {
    const change = crop({ shiftXmm: 1, cutMm: { left: 0.2, right: -0.2, top: 0.19, bottom: -0.19 } });
    expect(sayGeometry(change, 0.1, 'pixels')).toMatch(
      /; lost: 0\.20 mm at the left; more shows: 0\.20 mm at the right\.$/,
    );
  });

  it('says where the files and not the pixels decided', () => {
    const change = crop({ shiftXmm: -2, cutMm: { left: 2, right: -2, top: 0, bottom: 0 } });
    expect(sayGeometry(change, 3, 'placement')).toBe(
      'The picture is cropped differently: its content sits 2.0 mm to the left of where it was (by the placement in the files); lost: 2.0 mm at the left; more shows: 2.0 mm at the right.',
    );
  });
});
