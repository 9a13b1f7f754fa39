import { describe, expect, it } from 'vitest';
import { makePrintCopy, makeSignedCopy } from '../../../src/reporting/index.ts';
import { hasTool } from '../../reading/pdf/outside-tool.ts';
import { codeOf, cutOut, differing, drawnByPoppler, inked } from './drawn.ts';
import type { Drawn } from './drawn.ts';
import { ODD_PAGES, oddBook } from './odd-book.ts';
import type { OddPage } from './odd-book.ts';
import { archiveKey, orderFor } from './sample-order.ts';

/** Pixels of 72 of a page's own units, whatever these are on paper: so poppler draws. */
const RESOLUTION = 150;
const COUNT = ODD_PAGES.length;
const drawAll = (pdf: Uint8Array): Drawn[] => drawnByPoppler(pdf, RESOLUTION, [1, COUNT]);
const key = await archiveKey();

interface Edges {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/** Where a box lies on the drawn page, in pixels from the upper left corner of what is seen; by its own arithmetic. */
function pixelsOf(page: OddPage, box: readonly number[]): Edges {
  const [cx0, cy0, cx1, cy1] = page.crop ?? page.media;
  const [x0 = 0, y0 = 0, x1 = 0, y1 = 0] = box;
  const turn = (((page.rotate ?? 0) % 360) + 360) % 360;
  const points = {
    0: [x0 - cx0, cy1 - y1, x1 - cx0, cy1 - y0],
    90: [y0 - cy0, x0 - cx0, y1 - cy0, x1 - cx0],
    180: [cx1 - x1, y0 - cy0, cx1 - x0, y1 - cy0],
    270: [cy1 - y1, cx1 - x1, cy1 - y0, cx1 - x0],
  }[turn as 0 | 90 | 180 | 270].map((point) => (point * RESOLUTION) / 72);
  const [left = 0, top = 0, right = 0, bottom = 0] = points;
  return { left, top, right, bottom };
}

describe.skipIf(!hasTool('pdftoppm', 'poppler-utils'))('poppler', () => {
  for (const packed of [false, true]) {
    it(`draws every trimmed page as before, pixel by pixel, in a file with ${packed ? 'packed' : 'plain'} objects`, async () => {
      const before = await oddBook(ODD_PAGES, packed);
      const order = await orderFor(before, key);
      const drawn = drawAll(before);
      for (const after of [await makeSignedCopy(order), await makePrintCopy(order)]) {
        const copied = drawAll(after);
        ODD_PAGES.forEach((page, index) => {
          const edges = pixelsOf(page, page.trim ?? page.crop ?? page.media);
          const [own, copy] = [cutOut(drawn[index]!, edges), cutOut(copied[index]!, edges)];
          expect(inked(own), page.name).toBeGreaterThan(20_000);
          expect(differing(own, copy), page.name).toBe(0);
        });
      }
    });
  }

  it('shows the slug below the page and nothing else: what lay hidden outside stays hidden', async () => {
    const copied = drawAll(await makeSignedCopy(await orderFor(await oddBook(), key)));
    ODD_PAGES.forEach((page, index) => {
      const drawn = copied[index]!;
      const mm = RESOLUTION / 25.4 / (page.userUnit ?? 1);
      const shown = pixelsOf(page, page.crop ?? page.media);
      const trim = pixelsOf(page, page.trim ?? page.crop ?? page.media);
      const bleed = page.bleed === undefined ? shown : pixelsOf(page, page.bleed);
      const free = Math.max(shown.bottom + 1.5 * mm, trim.bottom + 3 * mm, bleed.bottom);
      const whole = { left: 0, right: drawn.width, top: 0, bottom: drawn.height };
      // One pixel in which the page's edge ends is left to the page.
      const gap = cutOut(drawn, { ...whole, top: shown.bottom + 1, bottom: free - 1 });
      const beside = cutOut(drawn, { ...whole, left: shown.right + 1, bottom: free - 1 });
      const slug = cutOut(drawn, { ...whole, top: free - 1 });
      expect([page.name, gap.height > 0, inked(gap), inked(beside)]).toEqual([page.name, true, 0, 0]);
      expect(slug.height / mm, page.name).toBeGreaterThan(21.5);
      expect(inked(slug), page.name).toBeGreaterThan(400);
      const coloured = slug.rgb.some((level, at) => at % 3 === 0 && Math.abs(level - (slug.rgb[at + 1] ?? 0)) > 12);
      expect(coloured, page.name).toBe(false);
    });
  });
});

describe.skipIf(!hasTool('zbarimg', 'zbar-tools') || !hasTool('pdftoppm', 'poppler-utils'))('zbarimg', () => {
  it('reads from the code of each page what its slug says, names beyond ASCII included, on pages turned and scaled', async () => {
    const order = await orderFor(await oddBook(), key);
    const copy = await makeSignedCopy({ ...order, title: 'Зимний круг – 冬 – ' + 'é'.repeat(40), part: 'Überzug' });
    for (const index of [0, 3, 4, 5, 7, 10]) {
      const page = ODD_PAGES[index]!;
      const code = codeOf(copy, index + 1, 250 * (page.userUnit ?? 1));
      expect(code).toBe(
        [
          'WITNESS LEAF',
          'Зимний круг – 冬 – é…',
          'Überzug',
          `page ${index + 1} of ${COUNT}`,
          order.file.pages[index]?.slice(0, 16),
          'in force 2026-11-25, log: 41, 43',
          'Anaïs Ödegård-Žižka 2026-11-24',
          'Tomás Ó Súilleabháin 2026-11-25',
        ].join('\n'),
      );
    }
  });

  it('reads from a print copy that it is not signed', async () => {
    const order = await orderFor(await oddBook(ODD_PAGES.slice(0, 1)), key);
    const code = codeOf(await makePrintCopy(order), 1, 300);
    expect(code.split('\n').slice(3)).toEqual([
      'page 1 of 1',
      order.file.pages[0]?.slice(0, 16),
      'print copy 2026-11-26, not signed',
    ]);
  });
});
