import { expect, test } from 'vitest';
import { resizedPage } from '../../src/comparing/resized-page.ts';
import { DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import { drawPage } from './sketched-page.ts';

const tolerances = { ...DEFAULT_TOLERANCES, trimMm: 0.25 };
const pageOf = (width: number, height: number, pageNumber = 1) =>
  drawPage({ size: { width, height }, pageNumber }).facts;

test('a page trimmed smaller than the dummy stops the plates, with both sizes', () => {
  expect(resizedPage(pageOf(24, 30, 3), pageOf(24, 29.5, 4), tolerances)).toEqual({
    kind: 'page-resized',
    weight: 'stop',
    dummyPage: 3,
    revisionPage: 4,
    box: { x: 0, y: 0, width: 24, height: 30 },
    revisionBox: { x: 0, y: 0, width: 24, height: 29.5 },
    measured: { dummyMm: { width: 24, height: 30 }, revisionMm: { width: 24, height: 29.5 } },
    says: 'The trimmed page measures 24.0 x 29.5 mm; in the dummy it measures 24.0 x 30.0 mm.',
  });
});

test.each([
  ['the same size', [24, 30], [24, 30], false],
  ['what files round', [24, 30], [24.2, 29.8], false],
  ['just the tolerance', [24, 30], [24.25, 29.75], false],
  ['a page too wide alone', [24, 30], [24.5, 30], true],
  ['a page turned on its side', [24, 30], [30, 24], true],
] as const)('%s', (_, [width, height], [otherWidth, otherHeight], told) => {
  expect(resizedPage(pageOf(width, height), pageOf(otherWidth, otherHeight), tolerances) !== null).toBe(told);
});
