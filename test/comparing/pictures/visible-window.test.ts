import { describe, expect, it } from 'vitest';
import { pixelsAround, pixelsWithin, visiblePictures } from '../../../src/comparing/pictures/visible-window.ts';
import type { Box, PlacedPicture } from '../../../src/model/index.ts';
import { pictureFacts } from '../sketched-page.ts';

const PAGE = { width: 200, height: 250 };
const at = (window: Box, given: Partial<PlacedPicture> = {}) => ({ ...pictureFacts(window), ...given });

describe('a reader of the trimmed page sees', () => {
  it('pictures in drawing order, without the bleed that the knife takes', () => {
    const bled = at({ x: -3, y: -3, width: 206, height: 128 });
    const framed = at({ x: 20, y: 140, width: 60, height: 40 });
    expect(visiblePictures([bled, framed], PAGE)).toEqual([
      { picture: bled, window: { x: 0, y: 0, width: 200, height: 125 } },
      { picture: framed, window: framed.window },
    ]);
  });

  it.each<[string, PlacedPicture]>([
    ['in the slug beside the page', at({ x: 205, y: 10, width: 50, height: 50 })],
    ['of which 2 mm reach onto the page', at({ x: 198, y: 10, width: 50, height: 50 })],
    ['of 3.9 mm, an ornament', at({ x: 50, y: 50, width: 60, height: 3.9 })],
    ['that is a stencil for ink', at({ x: 50, y: 50, width: 60, height: 60 }, { origin: 'stencil-mask' })],
  ])('no picture %s', (_, picture) => {
    expect(visiblePictures([picture], PAGE)).toEqual([]);
  });

  it('a picture inlined in the page’s content as any other', () => {
    const inline = at({ x: 50, y: 50, width: 4, height: 4 }, { origin: 'inline-image' });
    expect(visiblePictures([inline], PAGE)).toHaveLength(1);
  });
});

describe('the pixels of a box', () => {
  /** One pixel for each mm. */
  const raster = { width: 50, height: 40, ppi: 25.4, rgb: new Uint8Array(50 * 40 * 3) };
  const box = { x: 10.3, y: 5.6, width: 20, height: 10.2 };

  it('within it are those that lie wholly in it', () => {
    expect(pixelsWithin(box, raster)).toEqual({ left: 11, top: 6, width: 19, height: 9 });
  });

  it('within it may be taken further in, away from its soft rim', () => {
    expect(pixelsWithin(box, raster, 2)).toEqual({ left: 13, top: 8, width: 15, height: 5 });
  });

  it('around it are all that it touches', () => {
    expect(pixelsAround(box, raster)).toEqual({ left: 10, top: 5, width: 21, height: 11 });
  });

  it('are the same for both where its edges fall between pixels, and a hair beside makes no difference within', () => {
    const exact = { x: 10.01, y: 5.01, width: 19.98, height: 9.98 };
    expect(pixelsWithin(exact, raster)).toEqual({ left: 10, top: 5, width: 20, height: 10 });
    expect(pixelsAround(exact, raster)).toEqual({ left: 10, top: 5, width: 20, height: 10 });
  });

  it('end where the page ends', () => {
    const over = { x: -5, y: 35.2, width: 100, height: 100 };
    expect(pixelsWithin(over, raster)).toEqual({ left: 0, top: 36, width: 50, height: 4 });
    expect(pixelsAround(over, raster)).toEqual({ left: 0, top: 35, width: 50, height: 5 });
  });
});
