import { beforeEach, describe, expect, it, vi } from 'vitest';
import { DEFAULT_LIMITS, type PageRaster } from '../../../src/model/index.ts';
import { drawPage, isBlank } from '../../../src/reading/index.ts';
import { loadFonts } from '../../../src/reading/raster/canvas.ts';
import { openSample } from './sample-file.ts';

vi.mock('../../../src/reading/raster/canvas.ts', { spy: true });

/** A page of a few words, which stand in a group that is laid over it as a whole. */
async function draw(baseFont: string): Promise<PageRaster> {
  const book = await openSample((objects) => {
    const Font = { F: objects.object({ Type: 'Font', Subtype: 'Type1', BaseFont: baseFont }) };
    const group = objects.stream('BT /F 18 Tf 10 20 Td (Eleven boats) Tj ET', {
      ...{ Type: 'XObject', Subtype: 'Form', BBox: [0, 0, 200, 60], Resources: { Font } },
      Group: { S: 'Transparency' },
    });
    const resources = { XObject: { Group: group }, ExtGState: { Faint: objects.object({ ca: 0.9 }) } };
    return [{ media: [0, 0, 200, 60], resources, content: '/Faint gs /Group Do' }];
  });
  try {
    return (await drawPage({ book, pageNumber: 1, ppi: 72, limits: DEFAULT_LIMITS })).raster;
  } finally {
    book.close();
  }
}

/** Of the page's pixels, how many are darker than half. */
const inked = ({ rgb }: PageRaster): number => rgb.filter((value, at) => at % 3 === 0 && value < 128).length;

// one after the other: what was loaded once stays
describe('fonts that the canvas sets text in', () => {
  beforeEach(() => vi.mocked(loadFonts).mockClear());

  it('are not loaded for type that comes as outlines', async () => {
    expect(isBlank(await draw('Helvetica'))).toBe(false);
    expect(loadFonts).not.toHaveBeenCalled();
  });

  it('are loaded where a file names a font that it does not have, and its text is there', async () => {
    const [known, missing] = [await draw('Helvetica'), await draw('NowhereSans')];
    expect(loadFonts).toHaveBeenCalledOnce();
    // the same words in two typefaces of one kind
    expect(inked(missing) / inked(known)).toBeGreaterThan(0.5);
    expect(inked(missing) / inked(known)).toBeLessThan(2);
  });

  it('draw a page the same the second time, when they are loaded', async () => {
    expect(await draw('NowhereSans')).toEqual(await draw('NowhereSans'));
    expect(loadFonts).not.toHaveBeenCalled();
  });
});
