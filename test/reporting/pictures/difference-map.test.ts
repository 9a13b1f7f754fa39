import { describe, expect, it } from 'vitest';
import { SIGNAL_ON_MAP } from '../../../src/reporting/palette.ts';
import { differenceMap } from '../../../src/reporting/pictures/difference-map.ts';
import { cutRegion } from '../../../src/reporting/pictures/rgb-picture.ts';
import type { RgbPicture } from '../../../src/reporting/pictures/rgb-picture.ts';
import { fitTone } from '../../../src/reporting/pictures/tone-fit.ts';

const SIDE = 60;

/** A picture with structure in every channel. */
function picture(level: (x: number, y: number, channel: number) => number): RgbPicture {
  const rgb = new Uint8Array(SIDE * SIDE * 3);
  for (let at = 0; at < rgb.length; at += 1) {
    const pixel = Math.floor(at / 3);
    rgb[at] = level(pixel % SIDE, Math.floor(pixel / SIDE), at % 3);
  }
  return { width: SIDE, height: SIDE, rgb };
}

const wave = (x: number, y: number, channel: number): number =>
  130 + 60 * Math.sin(x / 6 + channel) + 40 * Math.cos(y / 9 - channel);
const dummy = picture(wave);
const isIn = (x: number, y: number): boolean => x >= 20 && x < 30 && y >= 35 && y < 45;

/** Pixels that carry the full signal colour. */
function signalled(map: RgbPicture): readonly (readonly [x: number, y: number])[] {
  const found: [number, number][] = [];
  for (let pixel = 0; pixel < SIDE * SIDE; pixel += 1) {
    if (SIGNAL_ON_MAP.every((level, channel) => map.rgb[pixel * 3 + channel] === level)) {
      found.push([pixel % SIDE, Math.floor(pixel / SIDE)]);
    }
  }
  return found;
}

function isGrey(map: RgbPicture): boolean {
  return map.rgb.every((level, at) => level === map.rgb[at - (at % 3)]);
}

describe('the map of a difference', () => {
  it('is a pale grey ground where both sides are the same', () => {
    const map = differenceMap({ dummy, revision: dummy }, 'as-is');
    expect(isGrey(map)).toBe(true);
    expect(Math.min(...map.rgb)).toBeGreaterThan(200);
  });

  it('signals a patch that shows something else, all of it and nothing more', () => {
    const revision = picture((x, y, channel) => (isIn(x, y) ? [20, 240, 20][channel]! : wave(x, y, channel)));
    const found = signalled(differenceMap({ dummy, revision }, 'as-is'));
    expect(found.every(([x, y]) => isIn(x, y))).toBe(true);
    expect(found).toHaveLength(100);
  });

  it('stays quiet about a tone that was compressed and shifted as a conversion does', () => {
    const revision = picture((x, y, channel) => 0.85 * wave(x, y, channel) + 12);
    expect(isGrey(differenceMap({ dummy, revision }, 'fitted'))).toBe(true);
  });

  it('shows such a tone where the colour itself is the matter', () => {
    const revision = picture((x, y, channel) => (channel === 2 ? 0.5 * wave(x, y, channel) : wave(x, y, channel)));
    expect(signalled(differenceMap({ dummy, revision }, 'as-is')).length).toBeGreaterThan(SIDE);
  });

  it('still signals a patch when the tone of the rest was compressed', () => {
    const revision = picture((x, y, channel) =>
      isIn(x, y) ? [20, 240, 20][channel]! : 0.85 * wave(x, y, channel) + 12,
    );
    const found = signalled(differenceMap({ dummy, revision }, 'fitted'));
    expect(found.every(([x, y]) => isIn(x, y))).toBe(true);
    expect(found.length).toBeGreaterThan(90);
  });

  it('stays quiet about a shift of one pixel, as resampling brings', () => {
    const revision = picture((x, y, channel) => wave(x + 1, y, channel));
    expect(signalled(differenceMap({ dummy, revision }, 'as-is'))).toEqual([]);
  });
});

describe('the fit of a tone', () => {
  it('leaves paper white where a picture is gone', () => {
    const gone = picture(() => 255);
    const framed = picture((x, y, channel) => (y < 40 ? 255 : wave(x, y, channel)));
    expect(fitTone({ dummy: framed, revision: gone }).rgb).toEqual(gone.rgb);
  });

  it('changes nothing between equal pictures', () => {
    expect(fitTone({ dummy, revision: dummy }).rgb).toEqual(dummy.rgb);
  });
});

describe('a region cut out of a page', () => {
  const page = { ...dummy, ppi: 25.4 };

  it('is the page’s own pixels', () => {
    const cut = cutRegion(page, { x: 10, y: 20, width: 5, height: 4 });
    expect([cut.width, cut.height]).toEqual([5, 4]);
    expect([...cut.rgb.subarray(0, 3)]).toEqual([
      ...dummy.rgb.subarray((20 * SIDE + 10) * 3, (20 * SIDE + 10) * 3 + 3),
    ]);
  });

  it('is grey where it reaches beyond the page', () => {
    const cut = cutRegion(page, { x: 58, y: 58, width: 4, height: 4 });
    expect([...cut.rgb.subarray(6, 12)]).toEqual([216, 216, 216, 216, 216, 216]);
    expect([...cut.rgb.subarray(24)]).toEqual(new Array<number>(24).fill(216));
    expect([...cut.rgb.subarray(0, 3)]).toEqual([
      ...dummy.rgb.subarray((58 * SIDE + 58) * 3, (58 * SIDE + 58) * 3 + 3),
    ]);
  });
});
