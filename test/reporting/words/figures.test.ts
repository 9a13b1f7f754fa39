import { describe, expect, it } from 'vitest';
import {
  formatBytes,
  formatCount,
  formatMm,
  formatNumber,
  formatScale,
  formatShift,
  keepUnits,
} from '../../../src/reporting/words/figures.ts';

describe('figures in words', () => {
  it.each([
    [0.966, '0.97 mm'],
    [0.999, '1.0 mm'],
    [2.04, '2.0 mm'],
    [-0.351, '−0.35 mm'],
    [-0.001, '0.00 mm'],
    [12.35, '12.3 mm'],
  ])('a length of %f mm is “%s”', (length, words) => expect(formatMm(length)).toBe(words));

  it.each([
    [1.0234, '2.3 % larger'],
    [0.9765, '2.3 % smaller'],
    [1.0004, 'unchanged'],
  ])('a scale of %f is “%s”', (ratio, words) => expect(formatScale(ratio)).toBe(words));

  it.each([
    [{ x: 1.2, y: -0.4 }, '1.2 mm to the right, 0.40 mm up'],
    [{ x: -2, y: 0 }, '2.0 mm to the left'],
    [{ x: 0, y: 3 }, '3.0 mm down'],
    [{ x: 0.001, y: -0.004 }, 'none'],
  ])('a shift of %j is “%s”', (shift, words) => expect(formatShift(shift)).toBe(words));

  it.each([
    [0, '0 bytes'],
    [999, '999 bytes'],
    [1000, '1 kB'],
    [2_214_873, '2.2 MB'],
    [4_300_000_000_000, '4300 GB'],
  ])('%d bytes are “%s”', (bytes, words) => expect(formatBytes(bytes)).toBe(words));

  it('a number has no idle zeros and a true minus sign', () => {
    expect([formatNumber(2, 2), formatNumber(-1.255, 1), formatNumber(-0.001, 2)]).toEqual(['2', '−1.3', '0']);
  });

  it('one is singular, all others plural', () => {
    expect([0, 1, 2].map((count) => formatCount(count, 'leaf', 'leaves'))).toEqual(['0 leaves', '1 leaf', '2 leaves']);
  });

  it('a figure is never parted from its unit at the end of a line', () => {
    expect(keepUnits('2.4 mm lost, 5 mm² gone, 100 ppi, 3 mmm, 7 %')).toBe(
      '2.4\u00a0mm lost, 5\u00a0mm² gone, 100\u00a0ppi, 3 mmm, 7\u00a0%',
    );
  });
});
