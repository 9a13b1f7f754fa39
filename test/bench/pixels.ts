/**
 * `npm run bench:pixels`: what is drawn on two pages held against each other pixel by pixel, a megapixel of it, over
 * pixelmatch on the same pair. Pages of the demonstration book, dummy and final, at the resolution of a check, nothing
 * explained by pictures or words before, so that every pixel is looked at; each timed when both programs are warm.
 */
import { existsSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import pixelmatch from 'pixelmatch';
import { makeDummy, makeFinal, WHOLE } from '../../demo/book/make.ts';
import { compareArtwork } from '../../src/comparing/artwork.ts';
import { fitBookConversion } from '../../src/comparing/index.ts';
import { preparePage } from '../../src/comparing/page-sides.ts';
import type { PageFacts, PageRaster } from '../../src/model/index.ts';
import { DEFAULT_LIMITS, DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import { openBook, readPage } from '../../src/reading/index.ts';
import { median, tellMachine, tellTargets } from './telling.ts';

const folder = join(import.meta.dirname, '..', '..', '.out', 'bench', 'pixels');
/** A title, type with pictures, a map, a picture in full bleed. */
const PAGES = [3, 7, 9, 16, 23, 30];
const WARM = 5;
const RUNS = 15;
const edition = { ...WHOLE, pages: PAGES };

mkdirSync(folder, { recursive: true });
if (!existsSync(join(folder, 'dummy.pdf'))) await makeDummy(folder, edition);
if (!existsSync(join(folder, 'final.pdf'))) await makeFinal(folder, edition);

interface Page {
  readonly facts: PageFacts;
  readonly raster: PageRaster;
}

async function pagesOf(name: string): Promise<readonly Page[]> {
  const book = await openBook(join(folder, name), DEFAULT_LIMITS);
  const pages: Page[] = [];
  for (let pageNumber = 1; pageNumber <= PAGES.length; pageNumber++) {
    const { analysisPpi: ppi } = DEFAULT_TOLERANCES;
    pages.push(await readPage({ book, pageNumber, ppi, limits: DEFAULT_LIMITS }));
  }
  return pages;
}

/** Four bytes a pixel, as pixelmatch takes them. */
function withAlpha({ width, height, rgb }: PageRaster): Uint8Array {
  const four = new Uint8Array(width * height * 4).fill(255);
  for (let at = 0; at < width * height; at++) four.set(rgb.subarray(at * 3, at * 3 + 3), at * 4);
  return four;
}

/** Milliseconds; the middle of several, after some that are not counted. */
function timed(work: () => void): number {
  const taken: number[] = [];
  for (let run = 0; run < WARM + RUNS; run++) {
    const began = performance.now();
    work();
    if (run >= WARM) taken.push(performance.now() - began);
  }
  return median(taken);
}

tellMachine();
const [dummy, final] = [await pagesOf('dummy.pdf'), await pagesOf('final.pdf')];
const conversion = fitBookConversion(
  dummy.map(({ facts }, at) => ({ dummy: facts.signature, revision: final[at]!.facts.signature })),
);
const ratios: number[] = [];
for (const [at, page] of PAGES.entries()) {
  const [one, other] = [dummy[at]!, final[at]!];
  const { width, height } = one.raster;
  const sides = { dummy: preparePage(one), revision: preparePage(other) };
  const [a, b] = [withAlpha(one.raster), withAlpha(other.raster)];
  const ours = timed(() => compareArtwork(sides, [], conversion, DEFAULT_TOLERANCES));
  const theirs = timed(() => pixelmatch(a, b, undefined, width, height, { threshold: 0.1 }));
  const each = (ms: number): string => (ms / ((width * height) / 1e6)).toFixed(2).padStart(7);
  console.log(`page ${String(page).padStart(2)}  ours ${each(ours)}  pixelmatch ${each(theirs)} ms a megapixel`);
  ratios.push(ours / theirs);
}
const targets = [{ name: 'a page over pixelmatch', value: median(ratios), most: 0.5, unit: '' }];
process.exitCode = tellTargets(targets) ? 0 : 1;
