import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../../src/model/index.ts';
import { closeUpPpi, closeUpRegion } from '../../../src/reporting/pictures/close-up.ts';

const length = (least: number, most: number) => fc.double({ min: least, max: most, noNaN: true });
const box = fc.record({ x: length(-10, 700), y: length(-10, 700), width: length(0, 700), height: length(0, 700) });
const paper = fc.record({ width: length(20, 2000), height: length(20, 2000) });

function patchIn(own: Finding['box']): Finding {
  return {
    kind: 'picture-retouched',
    weight: 'look',
    dummyPage: 1,
    revisionPage: 1,
    box: own,
    revisionBox: own,
    measured: { areaMm2: 1 },
    says: 'x',
  };
}

describe('the part of a page that is shown of a finding', () => {
  it('lies on the paper, and holds what of the finding lies there', () => {
    fc.assert(
      fc.property(box, paper, (own, sheet) => {
        const region = closeUpRegion(patchIn(own), sheet);
        expect(region.x).toBeGreaterThanOrEqual(-1e-9);
        expect(region.y).toBeGreaterThanOrEqual(-1e-9);
        expect(region.x + region.width).toBeLessThanOrEqual(sheet.width + 1e-9);
        expect(region.y + region.height).toBeLessThanOrEqual(sheet.height + 1e-9);
        const onPaper =
          own.x >= 0 && own.y >= 0 && own.x + own.width <= sheet.width && own.y + own.height <= sheet.height;
        if (!onPaper) return;
        expect(region.x).toBeLessThanOrEqual(own.x + 1e-9);
        expect(region.y).toBeLessThanOrEqual(own.y + 1e-9);
        expect(region.x + region.width).toBeGreaterThanOrEqual(own.x + own.width - 1e-9);
        expect(region.y + region.height).toBeGreaterThanOrEqual(own.y + own.height - 1e-9);
      }),
    );
  });

  it('is the whole page where the finding has no box', () => {
    fc.assert(
      fc.property(paper, (sheet) => {
        expect(closeUpRegion(patchIn(null), sheet)).toEqual({ x: 0, y: 0, ...sheet });
      }),
    );
  });

  it('is drawn so that no page is larger than 30 million pixels, however large the sheet', () => {
    fc.assert(
      fc.property(box, paper, (own, sheet) => {
        const ppi = closeUpPpi(closeUpRegion(patchIn(own), sheet), sheet);
        expect(ppi).toBeGreaterThanOrEqual(1);
        expect(ppi).toBeLessThanOrEqual(200);
        expect((sheet.width / 25.4) * ppi * (sheet.height / 25.4) * ppi).toBeLessThanOrEqual(30e6);
      }),
    );
  });
});

describe('a letter that changed', () => {
  const letter = patchIn({ x: 20, y: 161, width: 2, height: 4 });
  const sheet = { width: 210, height: 250 };

  it('is shown with the words around it', () => {
    expect(closeUpRegion(letter, sheet)).toEqual({ x: 0, y: 146, width: 50, height: 34 });
  });

  it('is drawn at 200 ppi, and a whole page more coarsely', () => {
    expect(closeUpPpi(closeUpRegion(letter, sheet), sheet)).toBe(200);
    expect(closeUpPpi({ x: 0, y: 0, ...sheet }, sheet)).toBe(101);
  });
});
