import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PDFDocument } from '@cantoo/pdf-lib';
import { afterAll, describe, expect, it } from 'vitest';
import { winterBook } from '../../demo/book/a-winters-round.ts';
import { excerpt } from '../../demo/book/edits/pages.ts';
import { PHOTOGRAPHS } from '../../demo/book/photographs.ts';
import { DUMMY, FINAL } from '../../demo/book/preparation.ts';
import type { Preparation } from '../../demo/book/preparation.ts';
import { renderBook } from '../../demo/book/render.ts';

const folder = mkdtempSync(join(tmpdir(), 'winter-'));
afterAll(() => rmSync(folder, { recursive: true }));

// Small pictures: what is tested here does not depend on their size.
const LIBRARY = { ...PHOTOGRAPHS, printPx: 600 };

async function made(name: string, how: Preparation, kept = 'kept'): Promise<Buffer> {
  const path = join(folder, name);
  const book = excerpt(winterBook(), [1, 16, 9]);
  await renderBook(book, how, { library: LIBRARY, keptFolder: join(folder, kept) }, path);
  return readFileSync(path);
}

const SMALL_FINAL: Preparation = { ...FINAL, ppi: 60 };

describe('the demonstration book', () => {
  it('has thirty-two pages, one blank, one black, one picture over a spread', () => {
    const { pages } = winterBook();
    expect(pages).toHaveLength(32);
    expect(pages.filter(({ items }) => items.length === 0).map(({ name }) => name)).toEqual(['blank']);
    expect(pages.filter(({ name }) => name.startsWith('pass over the spread'))).toHaveLength(2);
    expect(pages[13]?.items).toEqual([expect.objectContaining({ kind: 'tint' })]);
  });

  it('made twice the same way, with nothing kept, it has the same bytes', async () => {
    const [once, again] = [await made('once.pdf', SMALL_FINAL), await made('again.pdf', SMALL_FINAL, 'kept anew')];
    expect(again.equals(once)).toBe(true);
  });

  it('says where it is trimmed and where it bleeds', async () => {
    const doc = await PDFDocument.load(await made('boxes.pdf', SMALL_FINAL));
    const mm = (pt: number): number => Math.round(((pt * 25.4) / 72) * 1000) / 1000;
    const sheet = doc.getPage(0);
    const trim = sheet.getTrimBox();
    expect([trim.x, trim.y, trim.width, trim.height].map(mm)).toEqual([3, 3, 240, 300]);
    expect([sheet.getBleedBox().width, sheet.getMediaBox().height].map(mm)).toEqual([246, 306]);
  });

  it('the dummy is in RGB and the final in process inks with a name', async () => {
    const text = async (name: string, how: Preparation): Promise<string> => (await made(name, how)).toString('latin1');
    const dummy = await text('dummy.pdf', { ...DUMMY, ppi: 60 });
    const final = await text('final.pdf', SMALL_FINAL);
    const spaces = (file: string): readonly string[] => [...new Set(file.match(/\/ColorSpace \/Device\w+/g))];
    expect(spaces(dummy)).toEqual(['/ColorSpace /DeviceRGB']);
    expect(spaces(final)).toEqual(['/ColorSpace /DeviceCMYK']);
    expect([dummy.includes('/OutputIntents'), final.includes('/OutputIntents')]).toEqual([false, true]);
  });
});
