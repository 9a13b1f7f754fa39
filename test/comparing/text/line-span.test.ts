import { describe, expect, it } from 'vitest';
import { spanOfLine } from '../../../src/comparing/text/line-span.ts';
import type { Box } from '../../../src/model/index.ts';
import { even } from '../made-up-scenes.ts';
import { setLine } from '../set-type.ts';
import type { PageSketch } from '../sketched-page.ts';
import { drawRaster, PPI } from '../sketched-page.ts';

const SIZE = { width: 84, height: 20 };
const line = (text: string, x = 20) => ({ text, x, baseline: 12 });
const LINE = line('alte mole');
const told = setLine(LINE).words;
const [left, right] = [told[0]!.box.x, told[1]!.box.x + told[1]!.box.width];
/** Two pixels: letters do not fill their advance. */
const NEARLY = 0.55;

function span(showing: PageSketch, stops: readonly Box[] = [], of = told): readonly [number, number] {
  const rasters = {
    telling: drawRaster({ size: SIZE, lines: [LINE] }, PPI),
    showing: drawRaster({ size: SIZE, ...showing }, PPI),
  };
  const { x, width } = spanOfLine(of, rasters, stops);
  return [x, x + width];
}

describe('the place of a line that another page shows in other shapes', () => {
  it('is that of its words where it is no longer than they are', () => {
    expect(span({ outlined: [line('elta mole')] })).toEqual([expect.closeTo(left, 0), expect.closeTo(right, 0)]);
    expect(span({})).toEqual([expect.closeTo(left, 0), expect.closeTo(right, 0)]);
  });

  it('goes as far as the letters by which it grew, over spaces, at either end', () => {
    const longer = setLine(line('alte mole am')).words.at(-1)!.box;
    const [from, to] = span({ outlined: [line('alte mole am')] });
    expect(from).toBe(left);
    expect(Math.abs(to - longer.x - longer.width)).toBeLessThan(NEARLY);
    const [before, end] = span({ outlined: [line('ammalte mole', left - 3 * 0.6 * 3.53)] });
    expect(Math.abs(before - (left - 3 * 0.6 * 3.53))).toBeLessThan(NEARLY);
    expect(end).toBeCloseTo(right);
  });

  it('ends before other words and pictures', () => {
    const stop = { x: right + 2, y: 0, width: 30, height: 20 };
    const [, to] = span({ outlined: [line('alte molemmmm')] }, [stop]);
    expect(to).toBeLessThanOrEqual(stop.x);
    expect(to).toBeGreaterThan(right + 1);
  });

  it('takes nothing along that stands apart, and not more than half of its length', () => {
    const apart = { box: { x: right + 4, y: 8, width: 6, height: 4 }, scene: even(0, 0, 0) };
    expect(span({ lines: [LINE], artwork: [apart] })[1]).toBeCloseTo(right);
    const rule = { box: { x: right, y: 10, width: 40, height: 1 }, scene: even(0, 0, 0) };
    const [, to] = span({ lines: [LINE], artwork: [rule] });
    expect(Math.abs(to - right - (right - left) / 2)).toBeLessThan(NEARLY);
  });

  it('is that of its words where they are turned', () => {
    const turned = told.map((word) => ({ ...word, turnDeg: 90 }));
    expect(span({ outlined: [line('alte mole am')] }, [], turned)).toEqual([left, expect.closeTo(right)]);
  });
});
