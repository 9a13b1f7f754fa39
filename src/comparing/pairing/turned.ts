import type { Tolerances, Word } from '../../model/index.ts';
import type { Edge } from './edge.ts';
import { SAME_ANYWHERE } from './limits-of-likeness.ts';
import { unlikeness } from './page-likeness.ts';
import type { PageTraits } from './page-traits.ts';
import type { PageView, QuarterTurn } from './page-view.ts';

/** Looks this alike upright are not questioned. */
const UPRIGHT = 0.05;

/**
 * How the revision's page is turned against the dummy's, clockwise. The direction of its words tells, where there are
 * some on both; else its looks.
 *
 * @param edge  the turn under which the pair was found
 */
export function turnOf(dummy: PageTraits, revision: PageTraits, edge: Edge, tolerances: Tolerances): QuarterTurn {
  const looksAt = (turnedDeg: QuarterTurn) => unlikeness(dummy, revision, turnedDeg).looks;
  const told = turnOfWords(dummy.view.words, revision.view.words);
  const upright = looksAt(0);
  if (told !== null) {
    const turned = looksAt(told);
    return turned === null || upright === null || turned <= upright + UPRIGHT ? told : 0;
  }
  if (upright === null || upright <= UPRIGHT) return edge.turnedDeg;
  let best: { turnedDeg: QuarterTurn; looks: number } = { turnedDeg: 0, looks: upright };
  for (const turnedDeg of [90, 180, 270] as const) {
    // Asked first, since a page has to be turned to be looked at.
    if (!mayTurn(dummy.view, revision.view, turnedDeg, tolerances)) continue;
    const looks = looksAt(turnedDeg);
    if (looks === null || looks > SAME_ANYWHERE || looks > upright / 2) continue;
    if (looks < best.looks) best = { turnedDeg, looks };
  }
  return best.turnedDeg;
}

/** A quarter turn swaps the sides: the swapped size must fit no worse than the upright one. */
export function mayTurn(dummy: PageView, revision: PageView, turnedDeg: QuarterTurn, { trimMm }: Tolerances): boolean {
  if (turnedDeg === 0 || turnedDeg === 180 || dummy.trimmed === null || revision.trimmed === null) return true;
  const [before, after] = [dummy.trimmed, revision.trimmed];
  const upright = Math.abs(before.width - after.width) + Math.abs(before.height - after.height);
  const swapped = Math.abs(before.height - after.width) + Math.abs(before.width - after.height);
  return swapped <= upright + trimMm;
}

/** Null where one page has under three words, or words that run in several directions. */
function turnOfWords(dummy: readonly Word[] | null, revision: readonly Word[] | null): QuarterTurn | null {
  const [before, after] = [mainDirection(dummy), mainDirection(revision)];
  if (before === null || after === null) return null;
  return quarterOf(after - before);
}

function mainDirection(words: readonly Word[] | null): QuarterTurn | null {
  if (words === null || words.length < 3) return null;
  const counts = new Map<QuarterTurn, number>();
  for (const { turnDeg } of words) {
    const quarter = quarterOf(turnDeg);
    counts.set(quarter, (counts.get(quarter) ?? 0) + 1);
  }
  const [most] = [...counts].sort((a, b) => b[1] - a[1]);
  return most !== undefined && most[1] >= 0.8 * words.length ? most[0] : null;
}

function quarterOf(deg: number): QuarterTurn {
  const quarter = ((Math.round(deg / 90) % 4) + 4) % 4;
  return quarter === 0 ? 0 : quarter === 1 ? 90 : quarter === 2 ? 180 : 270;
}
