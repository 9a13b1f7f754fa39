import { execFileSync } from 'node:child_process';
import { createWriteStream, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { once } from 'node:events';
import PDFDocument from 'pdfkit';
import { afterAll, describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS, type Word } from '../../../src/model/index.ts';
import { drawPage, openBook } from '../../../src/reading/index.ts';
import { hasTool } from '../pdf/outside-tool.ts';
import { sampleFile, type SampleObjects, type SamplePage } from '../raster/sample-file.ts';

const MM_PER_PT = 25.4 / 72;
const FONTS = new URL('../../../node_modules/@fontsource/source-serif-4/files/', import.meta.url);
const folder = mkdtempSync(join(tmpdir(), 'witnessleaf-words-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function wordsOf(path: string): Promise<readonly Word[]> {
  const book = await openBook(path, DEFAULT_LIMITS);
  return (await drawPage({ book, pageNumber: 1, ppi: 72, limits: DEFAULT_LIMITS })).words;
}

async function wordsOfPage(page: (objects: SampleObjects) => SamplePage): Promise<readonly Word[]> {
  return wordsOf(await sampleFile((objects) => [page(objects)]));
}

const texts = (words: readonly Word[]) => words.map(({ text }) => text);
const helvetica = (objects: SampleObjects) =>
  objects.object({ Type: 'Font', Subtype: 'Type1', BaseFont: 'Helvetica', Encoding: 'WinAnsiEncoding' });

/** A page set by a layout library: embedded fonts with kerning and ligatures, justified, in two columns, letterspaced. */
async function setPage(): Promise<string> {
  const path = join(folder, 'set.pdf');
  const document = new PDFDocument({ size: [500, 700], margin: 40 });
  const file = document.pipe(createWriteStream(path));
  const sentence =
    'The office of the first difficult affair: fluffy waffles, Übergröße, naïve café, Ångström, mañana. ';
  document.font(new URL('source-serif-4-latin-400-normal.woff', FONTS).pathname).fontSize(10);
  document.text(sentence.repeat(6), { align: 'justify', width: 300 }).moveDown();
  document.font(new URL('source-serif-4-latin-400-italic.woff', FONTS).pathname).fontSize(14);
  document.text('Italic words AVATAR To Ty We, kerned “quoted” — dash.').moveDown();
  const column = 'Two columns of small Helvetica that wrap until both of them are full. ';
  document.font('Helvetica').fontSize(8).text(column.repeat(8), { columns: 2, columnGap: 20, width: 400, height: 90 });
  document.end();
  await once(file, 'finish');
  return path;
}

interface PopplerWord {
  readonly text: string;
  readonly x: number;
  readonly right: number;
  readonly middle: number;
}

function wordsByPoppler(path: string): readonly PopplerWord[] {
  const html = execFileSync('pdftotext', ['-bbox', path, '-']).toString();
  const word = /<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*?)<\/word>/g;
  return [...html.matchAll(word)].map(([, x, top, right, bottom, text]) => ({
    text: (text ?? '').replaceAll('&quot;', '"').replaceAll('&amp;', '&').normalize('NFKC'),
    x: Number(x) * MM_PER_PT,
    right: Number(right) * MM_PER_PT,
    middle: ((Number(top) + Number(bottom)) / 2) * MM_PER_PT,
  }));
}

describe('the words of a page', () => {
  it.skipIf(!hasTool('pdftotext', 'poppler-utils'))(
    'are those that poppler finds, each starting and ending within 0.2 mm of where it says',
    async () => {
      const path = await setPage();
      const [ours, theirs] = [await wordsOf(path), wordsByPoppler(path)];
      const byPlace = (one: { text: string; x: number }, other: { text: string; x: number }) =>
        one.text < other.text ? -1 : one.text > other.text ? 1 : one.x - other.x;
      const found = ours
        .map(({ text, box }) => ({ text, x: box.x, right: box.x + box.width, middle: box.y + box.height / 2 }))
        .sort(byPlace);
      const expected = [...theirs].sort(byPlace);
      expect(found.map(({ text }) => text)).toEqual(expected.map(({ text }) => text));
      const off = found.filter(({ x, right }, at) => {
        const other = expected[at];
        return other === undefined || Math.abs(x - other.x) > 0.2 || Math.abs(right - other.right) > 0.2;
      });
      expect({ words: found.length > 150, off }).toEqual({ words: true, off: [] });
    },
  );

  it('say where they stand, how large, turned how far and in which font', async () => {
    const words = await wordsOfPage((objects) => ({
      media: [0, 0, 300, 200],
      entries: { TrimBox: [50, 0, 300, 150] },
      resources: { Font: { F: helvetica(objects) } },
      content: 'BT /F 10 Tf 2 0 0 2 122 78 Tm (Harbour) Tj ET BT /F 12 Tf 0 1 -1 0 86 6 Tm (Up) Tj ET',
    }));
    const rounded = words.map(({ box, origin, ...rest }) => ({
      ...rest,
      origin: [origin.x, origin.y].map((mm) => mm.toFixed(2)),
      box: [box.x, box.y, box.width, box.height].map((mm) => mm.toFixed(1)),
    }));
    // Widths by Adobe's metrics of Helvetica: Harbour 3612, Up 1278 thousandths. Height: the font's own.
    expect(rounded).toEqual([
      { text: 'Harbour', turnDeg: 0, sizePt: 20, font: 'Helvetica', origin: ['25.40', '25.40'], box: rounded[0]?.box },
      { text: 'Up', turnDeg: -90, sizePt: 12, font: 'Helvetica', origin: ['12.70', '50.80'], box: rounded[1]?.box },
    ]);
    expect([words[0]?.box.width.toFixed(2), words[1]?.box.height.toFixed(2)]).toEqual([
      (3.612 * 20 * MM_PER_PT).toFixed(2),
      (1.278 * 12 * MM_PER_PT).toFixed(2),
    ]);
  });

  it('are found in forms, and at the size that the form gives them', async () => {
    const words = await wordsOfPage((objects) => {
      const Font = { F: helvetica(objects) };
      const form = objects.stream('BT /F 10 Tf (Caption) Tj ET', {
        ...{
          Type: 'XObject',
          Subtype: 'Form',
          BBox: [0, 0, 100, 20],
          Matrix: [1, 0, 0, 1, 36, 0],
          Resources: { Font },
        },
      });
      return {
        media: [0, 0, 200, 72],
        resources: { XObject: { Form: form } },
        content: '1.5 0 0 1.5 18 36 cm /Form Do',
      };
    });
    expect(words.map(({ text, sizePt, origin }) => [text, sizePt, origin.x.toFixed(3), origin.y.toFixed(3)])).toEqual([
      ['Caption', 15, (72 * MM_PER_PT).toFixed(3), (36 * MM_PER_PT).toFixed(3)],
    ]);
  });

  it('leave out what cannot be seen: invisible text, layers that are off, what lies beyond the trim', async () => {
    const words = await wordsOfPage((objects) => {
      const layer = objects.object({ Type: 'OCG', Name: 'Remarks' });
      objects.inCatalog('OCProperties', { OCGs: [layer], D: { OFF: [layer] } });
      return {
        media: [0, 0, 300, 200],
        entries: { TrimBox: [20, 20, 280, 180] },
        resources: { Font: { F: helvetica(objects) }, Properties: { Remarks: layer } },
        content: `BT /F 10 Tf 40 100 Td (seen) Tj 3 Tr 0 -20 Td (invisible) Tj 0 Tr ET
          /OC /Remarks BDC BT /F 10 Tf 40 60 Td (remark) Tj ET EMC BT /F 10 Tf 40 5 Td (slug) Tj ET`,
      };
    });
    expect(texts(words)).toEqual(['seen']);
  });

  it('are split at spaces and at gaps, not at kerning, and not in letterspaced titles', async () => {
    const words = await wordsOfPage((objects) => ({
      media: [0, 0, 300, 200],
      resources: { Font: { F: helvetica(objects) } },
      content: `BT /F 12 Tf 20 160 Td [(W) 80 (ater and) -600 (stone)] TJ ET
        BT /F 12 Tf 4 Tc 20 120 Td (THE HARBOUR) Tj ET
        BT /F 12 Tf 0 Tc 20 50 Td [(Plates) -300 (.) -300 (.) -300 (.) -300 (.) -300 (.) -300 (7)] TJ ET
        BT /F 12 Tf 0 Tc 20 80 Td [(T) -300 (H) -300 (E) -900 (S) -300 (E) -300 (A)] TJ ET`,
    }));
    expect(texts(words)).toEqual(['Water', 'and', 'stone', 'THE', 'HARBOUR', 'THE', 'SEA', 'Plates', ...'.....', '7']);
  });

  it('have ligatures taken apart, soft hyphens dropped and accents joined to their letters', async () => {
    const toUnicode = (pairs: readonly (readonly [string, string])[]) =>
      `begincmap 1 begincodespacerange <00> <FF> endcodespacerange ${pairs.length} beginbfchar
       ${pairs.map(([code, text]) => `<${code}> <${text}>`).join(' ')} endbfchar endcmap`;
    const words = await wordsOfPage((objects) => {
      const map = toUnicode([
        ['61', 'FB01'],
        ['62', '00AD'],
        ['63', '00B4'],
        ['64', '00650301'],
      ]);
      const F = objects.object({
        ...{ Type: 'Font', Subtype: 'Type1', BaseFont: 'Helvetica', Encoding: 'WinAnsiEncoding' },
        ToUnicode: objects.stream(map),
      });
      const content = `BT /F 12 Tf 20 80 Td (ane) Tj 0 -20 Td (sobft) Tj 0 -20 Td (kd) Tj
        0 -20 Td [(kc) 500 (e)] TJ ET`;
      return { media: [0, 0, 100, 100], resources: { Font: { F } }, content };
    });
    expect(texts(words)).toEqual(['fine', 'soft', 'ké', 'ké'].map((text) => text.replace('fine', 'fi' + 'ne')));
  });
});
