import { describe, expect, it } from 'vitest';
import { addPage, dropPage, inTurn, movePage, repeatPage, swapPages, unaltered } from '../../demo/book/edits/pages.ts';
import { cutEdge, scaleContent, shiftContent, turnContent } from '../../demo/book/edits/pictures.ts';
import { changePicture } from '../../demo/book/edits/pictures.ts';
import { rewrite } from '../../demo/book/edits/type-and-artwork.ts';
import { BLACK } from '../../demo/book/ink.ts';
import type { BookSpec, PictureItem } from '../../demo/book/spec.ts';

const PICTURE: PictureItem = {
  kind: 'picture',
  source: 'harbour',
  frame: { x: 20, y: 30, width: 100, height: 50 },
  crop: { x: 0.2, y: 0.3, width: 0.5, height: 0.4 },
};

const line = (text: string) => ({ text, x: 10, baseline: 10, face: 'serif', sizePt: 10, ink: BLACK });
const BOOK: BookSpec = {
  title: 'five pages',
  author: 'nobody',
  trimMm: { width: 200, height: 200 },
  bleedMm: 3,
  pages: ['a', 'b', 'c', 'd', 'e'].map((name) => ({
    name,
    items: [PICTURE, { kind: 'text', role: 'body', lines: [line(`page ${name}`)] }],
  })),
};

describe('what is planted in a book is known by construction', () => {
  it('a page carried from 4 to 2 keeps the number it had', () => {
    expect(movePage(4, 2)(unaltered(BOOK)).origins).toEqual([1, 4, 2, 3, 5]);
  });

  it('exchanged pages are exchanged and nothing else is', () => {
    expect(swapPages(4, 2)(unaltered(BOOK)).origins).toEqual([1, 4, 3, 2, 5]);
  });

  it('lost, added and repeated pages leave the others their numbers', () => {
    const edit = inTurn(dropPage(1), addPage(2, { name: 'new', items: [] }), repeatPage(1, 5));
    const altered = edit(unaltered(BOOK));
    expect(altered.origins).toEqual([2, null, 3, 4, 2, 5]);
    expect(altered.book.pages.map(({ name }) => name)).toEqual(['b', 'new', 'c', 'd', 'b', 'e']);
  });

  it('content shifted to the right shows what lies further left', () => {
    expect(shiftContent(2, -1)(PICTURE)).toEqual({
      ...PICTURE,
      crop: { x: 0.2 - 2 / 200, y: 0.3 + 1 / 125, width: 0.5, height: 0.4 },
    });
  });

  it('content scaled by 1.25 shows four fifths around the same middle', () => {
    const { crop, frame } = scaleContent(1.25)(PICTURE);
    expect(frame).toEqual(PICTURE.frame);
    expect(crop.x).toBeCloseTo(0.25, 12);
    expect(crop.y).toBeCloseTo(0.34, 12);
    expect(crop.width).toBeCloseTo(0.4, 12);
    expect(crop.height).toBeCloseTo(0.32, 12);
  });

  it('a window cut at the left leaves every other point of the content where it was', () => {
    const cut = cutEdge('left', 4)(PICTURE);
    expect(cut.frame).toEqual({ x: 24, y: 30, width: 96, height: 50 });
    expect(cut.crop).toEqual({ x: 0.2 + 4 / 200, y: 0.3, width: 0.5 - 4 / 200, height: 0.4 });
  });

  it('content turned by a quarter is not stretched', () => {
    const { crop } = turnContent(90)(PICTURE);
    // 200 x 125 mm for the whole source; turned, its height lies along the frame's width.
    expect((crop.width * 200) / (crop.height * 125)).toBeCloseTo(50 / 100, 12);
  });

  it('a shift beyond the end of the picture is refused', () => {
    expect(() => shiftContent(45, 0)(PICTURE)).toThrow('the picture has nothing more to show there');
  });

  it('an edit that changes nothing is refused', () => {
    expect(() => changePicture(2, 1, (item) => ({ ...item }))(unaltered(BOOK))).toThrow(
      'nothing was changed on page 2',
    );
    expect(() => rewrite(2, 'page b', 'page b')(unaltered(BOOK))).toThrow('nothing was changed on page 2');
  });
});
