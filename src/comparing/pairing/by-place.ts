import { longestIncreasingRun } from '../sequence/longest-increasing-run.ts';
import { agreementOf } from './agreement.ts';
import type { Edge } from './edge.ts';
import type { BookTraits } from './page-traits.ts';

/** Beyond this many pairs of one gap only pages at the same distance into it are held against each other. */
const SMALL_GAP = 900;

/**
 * Pairs pages that nothing else has paired, where they stand between the same neighbours. If a gap has as many pages in
 * either file, something in common is enough; else a page must agree much, and one emptied page may be taken for one
 * of several.
 *
 * @param apart  indices of revision pages that are already accounted for
 */
export function pairByPlace({
  traits,
  paired,
  apart,
}: {
  readonly traits: BookTraits;
  readonly paired: readonly Edge[];
  readonly apart: ReadonlySet<number>;
}): Edge[] {
  const inOrder = [...paired].sort((a, b) => a.revision - b.revision);
  const backbone = longestIncreasingRun(inOrder.map(({ dummy }) => dummy)).map((index) => inOrder[index]!);
  const takenBefore = new Set(paired.map(({ dummy }) => dummy));
  const takenAfter = new Set([...paired.map(({ revision }) => revision), ...apart]);
  const found: Edge[] = [];
  let [from, to] = [0, 0];
  for (const post of [...backbone, { dummy: traits.dummy.length, revision: traits.revision.length }]) {
    const dummy = range(from, post.dummy).filter((index) => !takenBefore.has(index));
    const revision = range(to, post.revision).filter((index) => !takenAfter.has(index));
    found.push(...pairGap(traits, dummy, revision));
    [from, to] = [post.dummy + 1, post.revision + 1];
  }
  return found;
}

/** The best alignment of one gap: a sum of agreements, pages in rising order. */
function pairGap(traits: BookTraits, dummy: readonly number[], revision: readonly number[]): Edge[] {
  if (dummy.length === 0 || revision.length === 0) return [];
  const even = dummy.length === revision.length;
  const small = dummy.length * revision.length <= SMALL_GAP;
  const width = revision.length + 1;
  const worth = (row: number, column: number) => {
    if (!small && row !== column) return 0;
    return worthOf(traits, dummy[row]!, revision[column]!, { even, straight: row === column });
  };
  const best = new Float64Array((dummy.length + 1) * width);
  const taken = new Uint8Array(best.length);
  for (let row = dummy.length - 1; row >= 0; row--) {
    for (let column = revision.length - 1; column >= 0; column--) {
      const at = row * width + column;
      const value = worth(row, column);
      const pairing = value > 0 ? value + best[at + width + 1]! : 0;
      best[at] = Math.max(pairing, best[at + 1]!, best[at + width]!);
      taken[at] = value > 0 && pairing === best[at] ? 1 : 0;
    }
  }
  const found: Edge[] = [];
  for (let row = 0, column = 0; row < dummy.length && column < revision.length;) {
    const at = row * width + column;
    if (taken[at] === 1) {
      found.push({ dummy: dummy[row++]!, revision: revision[column++]!, cost: 1, turnedDeg: 0 });
    } else if (best[at] === best[at + 1]) column++;
    else row++;
  }
  return found;
}

function worthOf(
  traits: BookTraits,
  dummy: number,
  revision: number,
  { even, straight }: { readonly even: boolean; readonly straight: boolean },
): number {
  const [before, after] = [traits.dummy[dummy]!, traits.revision[revision]!];
  const agreement = agreementOf(before, after);
  if (agreement === 'much') return straight ? 1.1 : 1;
  if (agreement === 'none') return 0;
  if (even) return straight ? 0.6 : 0;
  const unknown = before.view.contentHash === null || after.view.contentHash === null;
  return unknown || after.view.blank === true || before.view.blank === true ? 0.3 : 0;
}

function range(from: number, to: number): number[] {
  return Array.from({ length: Math.max(0, to - from) }, (_, index) => from + index);
}
