import { describe, expect, it } from 'vitest';
import { registerPlates } from '../../../src/plates/index.ts';

const PX = 4;
const [WIDTH, HEIGHT] = [400, 300];

/** Frames that all inks share, and something of each ink's own, moved by a part of a pixel where asked. */
function plate(own: number, shiftX = 0, shiftY = 0) {
  const frames = [
    [30, 24, 110, 90],
    [150, 40, 100, 150],
    [270, 20, 100, 120],
    [40, 150, 90, 110],
    [260, 170, 110, 100],
  ] as const;
  const overlap = (from: number, to: number, at: number): number =>
    Math.max(0, Math.min(to, at + 1) - Math.max(from, at));
  const data = new Uint8Array(WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++) {
      let ink = 0;
      frames.forEach(([left, top, width, height], nth) => {
        const share =
          overlap(left + shiftX, left + shiftX + width, x) * overlap(top + shiftY, top + shiftY + height, y);
        ink += share * (60 + 30 * ((nth + own) % 4));
      });
      if ((x + 7 * own) % 97 < 2 && y > 20 * own) ink += 60;
      data[y * WIDTH + x] = 255 - Math.min(255, ink);
    }
  }
  return { width: WIDTH, height: HEIGHT, pxPerMm: PX, data };
}
const shiftsOf = (...plates: ReturnType<typeof plate>[]) =>
  registerPlates(plates).map((shift) =>
    shift === null ? null : [shift.x, shift.y].map((mm) => Math.round(mm * 50) / 50 + 0),
  );

describe('how plates lie on each other', () => {
  it('is even where they fit', () => {
    expect(shiftsOf(plate(0), plate(1), plate(2), plate(3))).toEqual([
      [0, 0],
      [0, 0],
      [0, 0],
      [0, 0],
    ]);
  });

  it('tells the one that is off, to a few hundredths of a millimetre, whichever it is', () => {
    for (const off of [0, 2]) {
      const plates = [0, 1, 2, 3].map((own) => (own === off ? plate(own, 1.2, -0.6) : plate(own)));
      shiftsOf(...plates).forEach((shift, own) => {
        const [x, y] = own === off ? [0.3, -0.15] : [0, 0];
        expect(Math.hypot(shift![0]! - x, shift![1]! - y)).toBeLessThan(0.04);
      });
    }
  });

  it('is not told of a plate with nothing on it', () => {
    const empty = { ...plate(0), data: new Uint8Array(WIDTH * HEIGHT).fill(255) };
    expect(shiftsOf(plate(0), empty, plate(2))).toEqual([[0, 0], null, [0, 0]]);
  });

  it('is told of a black with lines of type on it, which shares no more than marks with the others', () => {
    const page = { left: 60, top: 60, right: 340, bottom: 240 };
    const marked = (type: boolean, shiftY = 0) => {
      const data = new Uint8Array(WIDTH * HEIGHT).fill(255);
      const line = (left: number, top: number, width: number, height: number): void => {
        for (let y = Math.floor(top + shiftY); y < top + shiftY + height; y++) {
          for (let x = left; x < left + width; x++) {
            const share = Math.min(y + 1, top + shiftY + height) - Math.max(y, top + shiftY);
            data[y * WIDTH + x] = Math.min(data[y * WIDTH + x]!, 255 - 90 * share);
          }
        }
      };
      for (const x of [page.left, page.right]) for (const y of [24, page.bottom + 16]) line(x, y, 1, 20);
      for (const y of [page.top, page.bottom]) for (const x of [24, page.right + 16]) line(x, y, 20, 1);
      for (let y = page.top + 20; type && y < page.bottom - 20; y += 12) {
        for (let x = page.left + 20; x < page.right - 20; x += 5) line(x + (y % 3), y, 2, 6);
      }
      return { width: WIDTH, height: HEIGHT, pxPerMm: PX, data };
    };
    const shifts = shiftsOf(marked(false), marked(false), marked(false), marked(true, 1.2));
    expect(shifts.slice(0, 3)).toEqual([
      [0, 0],
      [0, 0],
      [0, 0],
    ]);
    expect(Math.abs(shifts[3]![1]! - 0.3)).toBeLessThan(0.06);
  });

  it('is told by marks, which all plates have alike, not by more patches of a bar that have but their edges in common', () => {
    const sheet = (own: number, patchesDown: number) => {
      const data = new Uint8Array(WIDTH * HEIGHT).fill(255);
      const fill = (left: number, top: number, width: number, height: number, ink: number): void => {
        for (let y = Math.floor(top); y < top + height; y++) {
          const share = Math.min(y + 1, top + height) - Math.max(y, top);
          for (let x = left; x < left + width; x++) data[y * WIDTH + x]! -= ink * share;
        }
      };
      for (const x of [32, 152, 272]) {
        fill(x - 12, 30, 24, 1, 60);
        fill(x, 18, 1, 24, 60);
      }
      for (let x = 16; x < 360; x += 40) {
        fill(x, 200 + patchesDown, 16, 16, 12);
        fill(x + 4 + own * 3, 204, 2, 7, 12);
      }
      return { width: WIDTH, height: HEIGHT, pxPerMm: PX, data };
    };
    expect(shiftsOf(sheet(0, 0), sheet(3, 0), sheet(2, -0.5), sheet(3, 0))).toEqual([
      [0, 0],
      [0, 0],
      [0, 0],
      [0, 0],
    ]);
  });
});
