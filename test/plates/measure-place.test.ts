import { describe, expect, it } from 'vitest';
import type { Box } from '../../src/model/index.ts';
import { measurePlace, type Grey } from '../../src/plates/index.ts';

const PX_PER_MM = 4;
const PAGE = { width: 60, height: 80 };
const WINDOW = { x: 5, y: 5, width: 50, height: 56 };
const AT = { x: 12, y: 14 };

/** A picture that has more to hold on to than all else, and lines of type under it; both as far beside their places as is said. */
function tone(x: number, y: number, contentDownMm: number): number {
  const inside = x >= WINDOW.x && x < WINDOW.x + WINDOW.width && y >= WINDOW.y && y < WINDOW.y + WINDOW.height;
  if (inside) return 120 + 110 * Math.sin(x / 1.2) * Math.cos((y - contentDownMm) / 1.3);
  const isType = y > 66 && y < 72 && x > 10 && x < 40 && Math.floor(y / 1.5) % 3 === 0 && Math.floor(x * 1.3) % 4 !== 0;
  return isType ? 30 : 255;
}

function drawn(size: { width: number; height: number }, at: (x: number, y: number) => number): Grey {
  const [width, height] = [size.width * PX_PER_MM, size.height * PX_PER_MM];
  const data = Uint8Array.from({ length: width * height }, (_, index) =>
    at((index % width) / PX_PER_MM, Math.floor(index / width) / PX_PER_MM),
  );
  return { width, height, pxPerMm: PX_PER_MM, data };
}

/** Words of the lines of type, as the dummy tells them. */
const TYPE = [66, 68, 70].map((y) => ({ x: 10, y, width: 30, height: 2 }));

/** What is measured of a page on which all but its type lies so far to the right; and its type, too. */
function measuredByType(restRightMm: number, typeRightMm: number, type: readonly Box[]) {
  const page = drawn(PAGE, (x, y) => tone(x, y, 0));
  const sheet = drawn({ width: 90, height: 110 }, (x, y) => {
    const [ownX, ownY] = [x - AT.x, y - AT.y];
    return ownY < 64 ? tone(ownX - restRightMm, ownY, 0) : tone(ownX - typeRightMm, ownY, 0);
  });
  const place = measurePlace({ sheet, page, pictures: [WINDOW], type }, { ...AT, ...PAGE }, 0);
  return place!.box.x - AT.x;
}

function measured(movedMm: number, contentDownMm: number) {
  const page = drawn(PAGE, (x, y) => tone(x, y, 0));
  const sheet = drawn({ width: 90, height: 110 }, (x, y) => {
    const [ownX, ownY] = [x - AT.x - movedMm, y - AT.y];
    const onPage = ownX >= 0 && ownY >= 0 && ownX < PAGE.width && ownY < PAGE.height;
    return onPage ? tone(ownX, ownY, contentDownMm) : 255;
  });
  const place = measurePlace({ sheet, page, pictures: [WINDOW], type: [] }, { ...AT, ...PAGE }, 0);
  return { x: place!.box.x - AT.x, y: place!.box.y - AT.y };
}

describe('the place of a page on a sheet', () => {
  it('is where the whole page lies', () => {
    expect(measured(1, 0).x).toBeCloseTo(1, 1);
    expect(measured(1, 0).y).toBeCloseTo(0, 1);
  });

  it('is not told by what slipped within a picture of it', () => {
    const { x, y } = measured(0, 1);
    expect(Math.hypot(x, y)).toBeLessThan(0.1);
  });

  it('is told by lines of type, not by a picture that moved with its frame', () => {
    const lines = [...TYPE, { x: 10, y: 75, width: 10, height: 2 }];
    expect(measuredByType(3, 0, [])).toBeGreaterThan(2);
    expect(measuredByType(3, 0, lines)).toBe(0);
    expect(measuredByType(3, -1, lines)).toBeCloseTo(-1, 1);
    expect(measuredByType(1, 1, lines)).toBeCloseTo(1, 1);
  });

  it('is not told by one line of type, which may have moved as any other thing', () => {
    expect(measuredByType(3, 0, TYPE.slice(0, 1))).toBeGreaterThan(2);
  });
});
