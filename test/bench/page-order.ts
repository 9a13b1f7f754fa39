/**
 * `npm run bench:order`: how long the order of pages takes whose facts are known, and how that grows: books of photographs
 * and type, converted, with a section moved, pages exchanged, one lost and one added. Medians of five.
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

function pageOf(seed: number): PageView {
  return seed % 4 === 0
    ? pageView({ signature: typeSignature(seed), words: proseOf(seed, 250) })
    : pageView({ signature: pictureSignature(seed), words: proseOf(seed, seed % 3 === 0 ? 20 : 2) });
}

function revisionOf(pages: readonly PageView[]): PageView[] {
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

for (const size of SIZES) {
  const dummy = fileOf(Array.from({ length: size }, (_, seed) => pageOf(seed)));
  const revision = fileOf(revisionOf(dummy));
  const seconds: number[] = [];
  let found = '';
  for (let run = 0; run < RUNS; run++) {
    const started = performance.now();
    const { pairs, moved, missing, added } = pairPages({ dummy, revision }, DEFAULT_TOLERANCES);
    seconds.push((performance.now() - started) / 1000);
    found = `${pairs.length} pairs, ${moved.length} moved, ${missing.length} missing, ${added.length} added`;
  }
  const median = seconds.sort((one, other) => one - other)[RUNS >> 1]!;
  const target = size === 1000 ? ` (at most ${MOST_S}): ${median <= MOST_S ? 'reached' : 'NOT reached'}` : '';
  console.log(`${size} against ${size} pages  ${median.toFixed(3)} s${target}; ${found}`);
}
