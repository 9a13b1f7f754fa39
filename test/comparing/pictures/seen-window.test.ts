import { describe, expect, it } from 'vitest';
import { seenWindow } from '../../../src/comparing/pictures/seen-window.ts';
import type { Box } from '../../../src/model/index.ts';
import type { Carrying, Patch, Scene } from '../made-up-scenes.ts';
import { carried, even, paint, photograph, similarityFor } from '../made-up-scenes.ts';

const SIZE = { width: 60, height: 44 };
const WINDOW = { x: 10, y: 8, width: 30, height: 20 };
const scene = photograph(3, 3);
const shifted = (box: Box, x: number, y = 0): Box => ({ ...box, x: box.x + x, y: box.y + y });

/** Where the window is seen of a picture that stands in `now`, its content carried as said; `beside` is drawn on both pages. */
function seen(now: Box, carrying: Carrying, { shows = scene, beside = [] as readonly Patch[] } = {}): Box {
  const page = (box: Box, content: Scene) => paint(SIZE, 100, [...beside, { box, scene: content }]);
  const pages = { dummy: page(WINDOW, shows), revision: page(now, carried(shows, carrying)) };
  const centre = { centreX: WINDOW.x + WINDOW.width / 2, centreY: WINDOW.y + WINDOW.height / 2 };
  return seenWindow(pages, WINDOW, similarityFor({ ...centre, ...carrying }));
}

/** Dark under a sky as light as paper. */
const underSky: Scene = (x, y) => (y < WINDOW.y + 6 ? [253, 253, 253] : scene(x, y));

describe('the window of a picture on a page that tells none', () => {
  it('is the very one of the dummy where it stands, whatever became of what is in it', () => {
    expect(seen(WINDOW, {})).toBe(WINDOW);
    expect(seen(WINDOW, { shiftX: 2, shiftY: -1 })).toBe(WINDOW);
  });

  it('went with the content', () => {
    expect(seen(shifted(WINDOW, 1.5), { shiftX: 1.5 })).toEqual(shifted(WINDOW, 1.5));
    expect(seen(shifted(WINDOW, -4, 3), { shiftX: -4, shiftY: 3 })).toEqual(shifted(WINDOW, -4, 3));
  });

  it('was cut, or opened, at one edge', () => {
    const cut = seen({ ...WINDOW, width: 27.5 }, {});
    expect(cut.x).toBe(WINDOW.x);
    expect(Math.abs(cut.width - 27.5)).toBeLessThan(0.15);
    const opened = seen({ ...WINDOW, y: 6.5, height: 21.5 }, {});
    expect(Math.abs(opened.y - 6.5)).toBeLessThan(0.15);
    expect(opened.y + opened.height).toBeCloseTo(WINDOW.y + WINDOW.height, 9);
  });

  it('has edges that cannot be seen go with those that can', () => {
    expect(seen(shifted(WINDOW, 0, 2), { shiftY: 2 }, { shows: underSky })).toEqual(shifted(WINDOW, 0, 2));
    expect(seen(WINDOW, { shiftY: 2 }, { shows: underSky })).toBe(WINDOW);
  });

  it('keeps an edge that stands against another picture', () => {
    const beside = [{ box: { x: 40, y: 8, width: 15, height: 20 }, scene: photograph(8, 3) }];
    expect(seen(WINDOW, { shiftX: 1 }, { beside })).toBe(WINDOW);
  });

  it('is not looked for where the content is turned or mirrored', () => {
    expect(seen(shifted(WINDOW, 2), { shiftX: 2, turnDeg: 1 })).toBe(WINDOW);
    expect(seen(shifted(WINDOW, 2), { shiftX: 2, mirrored: true })).toBe(WINDOW);
  });

  it('is not looked for where all of it is as light as the paper', () => {
    expect(seen(shifted(WINDOW, 2), { shiftX: 2 }, { shows: even(250, 250, 250) })).toBe(WINDOW);
  });
});
