import { readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { PDFArray, PDFDict, PDFDocument, PDFName } from '@cantoo/pdf-lib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { imposeSheets } from '../../../demo/sheets/impose.ts';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import type { Plan } from '../../../src/plates/index.ts';
import { openBook, readPage, writeFoldedBook } from '../../../src/reading/index.ts';
import { smallPlan, writeSheetBook } from '../../archive/sheets/sheet-book.ts';
import { scratchFolder } from '../../archive/small-book.ts';
import { hasTool, run } from './outside-tool.ts';

let folder = '';
let foldedPath = '';
const plan: Plan = smallPlan(8);
const at = (name: string) => join(folder, name);
const read = async (path: string, pageNumber: number) => {
  const book = await openBook(path, DEFAULT_LIMITS);
  return readPage({ book, pageNumber, ppi: 60, limits: DEFAULT_LIMITS });
};

beforeAll(async () => {
  folder = await scratchFolder();
  const bookPath = await writeSheetBook(at('book.pdf'), 8);
  await imposeSheets({ bookPath, plan, outPath: at('sheets.pdf') });
  const cells = plan.sheets[0]!.sides.flatMap((side, index) =>
    side.cells.map((cell) => ({ ...cell, filePage: index + 1 })),
  );
  const cuts = cells
    .sort((one, other) => one.page! - other.page!)
    .map(({ filePage, box, turnDeg }) => ({ filePage, box, turnDeg, bleedMm: 0 }));
  foldedPath = at('folded.pdf');
  await writeFoldedBook(await openBook(at('sheets.pdf'), DEFAULT_LIMITS), cuts, foldedPath);
});
afterAll(() => rm(folder, { recursive: true }));

describe('sheets folded into a book', () => {
  it.each([1, 4, 6])('page %i has its size and its own words alone, upright and in their place', async (page) => {
    const [before, after] = [await read(at('book.pdf'), page), await read(foldedPath, page)];
    const places = ({ facts }: typeof before) =>
      facts.words.map(({ text, origin, turnDeg }) => [
        text,
        origin.x.toFixed(2),
        origin.y.toFixed(2),
        Math.round(turnDeg) % 360,
      ]);
    expect(after.facts.trimmed.width).toBeCloseTo(before.facts.trimmed.width, 6);
    expect(after.facts.trimmed.height).toBeCloseTo(before.facts.trimmed.height, 6);
    expect(places(after)).toEqual(places(before));
    expect(places(before).length).toBeGreaterThan(3);
  });

  it('keeps the print condition that its inks are shown for', async () => {
    const document = await PDFDocument.load(await readFile(at('sheets.pdf')));
    const intent = document.context.obj({ Type: 'OutputIntent', S: 'GTS_PDFX', OutputConditionIdentifier: 'APaper' });
    document.catalog.set(PDFName.of('OutputIntents'), document.context.obj([document.context.register(intent)]));
    await writeFile(at('intent.pdf'), await document.save());
    const box = { x: 0, y: 0, width: 20, height: 20 };
    const sheets = await openBook(at('intent.pdf'), DEFAULT_LIMITS);
    await writeFoldedBook(sheets, [{ filePage: 1, box, turnDeg: 0, bleedMm: 0 }], at('one.pdf'));
    const folded = await PDFDocument.load(await readFile(at('one.pdf')));
    const kept = folded.catalog.lookup(PDFName.of('OutputIntents'), PDFArray).lookup(0, PDFDict);
    expect(kept.get(PDFName.of('OutputConditionIdentifier'))?.toString()).toBe('/APaper');
  });

  it.skipIf(!hasTool('qpdf', 'qpdf'))('is a sound file to qpdf', () => {
    expect(run('qpdf', ['--check', foldedPath])).toMatch(/No syntax or stream encoding errors found/);
    expect(run('qpdf', ['--show-npages', foldedPath]).trim()).toBe('8');
  });
});
