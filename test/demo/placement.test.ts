import { describe, expect, it } from 'vitest';
import { cutToMedia, placePicture, regionOnPage } from '../../demo/book/placement.ts';
import type { PictureItem } from '../../demo/book/spec.ts';

const BLEEDING: PictureItem = {
  kind: 'picture',
  source: 'pass',
  frame: { x: -3, y: -3, width: 246, height: 306 },
  crop: { x: 0.1, y: 0.2, width: 0.6, height: 0.75 },
};

describe('where a picture lies', () => {
  it('the crop fills the frame', () => {
    expect(placePicture(BLEEDING)).toEqual({
      content: BLEEDING.frame,
      sourceMm: { width: 246 / 0.6, height: 306 / 0.75 },
    });
    expect(regionOnPage(BLEEDING, BLEEDING.crop)).toEqual(BLEEDING.frame);
  });

  it('cut to the trim, every point of the content stays where it was', () => {
    const cut = cutToMedia(BLEEDING, { x: 0, y: 0, width: 240, height: 300 });
    if (cut === null) throw new Error('the picture is on the page');
    expect(cut.frame).toEqual({ x: 0, y: 0, width: 240, height: 300 });
    const before = regionOnPage(BLEEDING, { x: 0.3, y: 0.4, width: 0.1, height: 0.1 });
    const after = regionOnPage(cut, { x: 0.3, y: 0.4, width: 0.1, height: 0.1 });
    expect(after.x).toBeCloseTo(before.x, 9);
    expect(after.y).toBeCloseTo(before.y, 9);
    expect(after.width).toBeCloseTo(before.width, 9);
  });

  it('what lies outside the sheet is left out', () => {
    expect(
      cutToMedia(
        { ...BLEEDING, frame: { x: 300, y: 0, width: 50, height: 50 } },
        { x: 0, y: 0, width: 240, height: 300 },
      ),
    ).toBeNull();
  });
});
