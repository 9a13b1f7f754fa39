import { describe, expect, it } from 'vitest';
import type { AssembledBook, DescribedFile } from '../../../src/archive/check-request.ts';
import type { ReadingTools } from '../../../src/archive/read-file.ts';
import { foldAhead } from '../../../src/archive/sheets/fold-ahead.ts';
import type { SheetsSource } from '../../../src/archive/sheets/sheets-source.ts';
import type { SheetCut } from '../../../src/reading/index.ts';

const file = (bytes: number) => ({ identity: { sha256: 'f'.repeat(64), bytes, pages: 1 } }) as DescribedFile;
const cut = (x: number): SheetCut => ({
  filePage: 1,
  box: { x, y: 10, width: 100, height: 120 },
  turnDeg: 180,
  bleedMm: 0,
});
const PLANNED = [cut(10), cut(110)];
const MEASURED = [cut(10), cut(110.3)];
/** Nothing is asked of it: a book without pages needs no worker to be described. */
const NO_TOOLS = {} as ReadingTools;

/** Sheets that fold to empty books, and by which cuts they were. */
function sheets({ fails = false } = {}) {
  const folded: (readonly SheetCut[])[] = [];
  const source = {
    plates: null,
    async fold(_file: DescribedFile, cuts: readonly SheetCut[]) {
      folded.push(cuts);
      await Promise.resolve();
      if (fails) throw new Error('the disk is full');
      return { identity: { sha256: `${folded.length}`, bytes: 0, pages: 0 }, pages: [] } as AssembledBook;
    },
  } as unknown as SheetsSource;
  return { source, folded };
}

describe('sheets that are folded before it is measured where their pages lie', () => {
  it('are folded once where pages lie as planned, and described by then', async () => {
    const { source, folded } = sheets();
    const ahead = foldAhead(NO_TOOLS, source, file(1000), PLANNED);
    expect(folded).toEqual([PLANNED]);
    const { book, described } = await ahead.by([cut(10), cut(110)], new Map());
    expect(folded).toHaveLength(1);
    expect(described?.identity).toEqual((book as AssembledBook).identity);
  });

  it('are folded again where one page lies elsewhere, when the first book is done', async () => {
    const { source, folded } = sheets();
    const { book, described } = await foldAhead(NO_TOOLS, source, file(1000), PLANNED).by(MEASURED, new Map());
    expect(folded).toEqual([PLANNED, MEASURED]);
    expect((book as AssembledBook).identity.sha256).toBe('2');
    expect(described).toBeNull();
  });

  it('fail only for whoever wants the book', async () => {
    const { source } = sheets({ fails: true });
    const ahead = foldAhead(NO_TOOLS, source, file(1000), PLANNED);
    await expect(ahead.end()).resolves.toBeUndefined();
    await expect(ahead.by(PLANNED, new Map())).rejects.toThrow('the disk is full');
  });

  it('are not folded on a guess where that would write a long book twice', async () => {
    const { source, folded } = sheets();
    const ahead = foldAhead(NO_TOOLS, source, file(300e6), PLANNED);
    expect(folded).toEqual([]);
    await ahead.by(MEASURED, new Map());
    expect(folded).toEqual([MEASURED]);
  });
});
