/**
 * `npm run bench:order`: how long the order of pages takes whose facts are known, and how that grows: books of photographs
 * and type, converted, with a section moved, pages exchanged, one lost and one added; and books of type alone, whose
 * pages all look alike. Medians of five; the processor time is the mean.
 */
import { pairPages } from '../../src/comparing/index.ts';
import { DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import {
  convert,
  fileOf,
  pageView,
  pictureSignature,
  proseOf,
  typeSignature,
} from '../comparing/pairing/made-up-pages.ts';
import type { PageView } from '../../src/comparing/index.ts';

const SIZES = [100, 300, 1000];
const MOST_S = 0.5;
const RUNS = 5;

/** A page by its number in a book. */
type PageOf = (seed: number) => PageView;

const typeOf: PageOf = (seed) => pageView({ signature: typeSignature(seed), words: proseOf(seed, 250) });
const mixedOf: PageOf = (seed) =>
  seed % 4 === 0
    ? typeOf(seed)
    : pageView({ signature: pictureSignature(seed), words: proseOf(seed, seed % 3 === 0 ? 20 : 2) });

function revisionOf(pages: readonly PageView[], pageOf: PageOf): PageView[] {
  const after = pages.map((page, seed): PageView => ({
    ...page,
    signature: convert(page.signature!, seed),
    contentHash: null,
  }));
  const third = Math.floor(after.length / 3);
  const section = after.splice(third, 16);
  after.splice(2 * third, 0, ...section);
  [after[5], after[40]] = [after[40]!, after[5]!];
  after.splice(60, 1);
  after.splice(80, 0, pageOf(after.length + 7));
  return after;
}

function measure(size: number, pageOf: PageOf): { readonly medianS: number; readonly told: string } {
  const dummy = fileOf(Array.from({ length: size }, (_, seed) => pageOf(seed)));
  const revision = fileOf(revisionOf(dummy, pageOf));
  const seconds: number[] = [];
  const began = process.cpuUsage();
  let found = '';
  for (let run = 0; run < RUNS; run++) {
    const started = performance.now();
    const { pairs, moved, missing, added } = pairPages({ dummy, revision }, DEFAULT_TOLERANCES);
    seconds.push((performance.now() - started) / 1000);
    found = `${pairs.length} pairs, ${moved.length} moved, ${missing.length} missing, ${added.length} added`;
  }
  const { user, system } = process.cpuUsage(began);
  const busyS = (user + system) / 1e6 / RUNS;
  const medianS = seconds.sort((one, other) => one - other)[RUNS >> 1]!;
  return { medianS, told: `${medianS.toFixed(3)} s; processor time ${busyS.toFixed(3)} s; ${found}` };
}

for (const [book, pageOf] of [
  ['photographs and type', mixedOf],
  ['type alone', typeOf],
] as const) {
  for (const size of SIZES) {
    const { medianS, told } = measure(size, pageOf);
    console.log(`${book}, ${size} against ${size} pages  ${told}`);
    if (pageOf === mixedOf && size === SIZES.at(-1))
      console.log(`  at most ${MOST_S} s: ${medianS <= MOST_S ? 'reached' : 'NOT reached'}`);
  }
}
