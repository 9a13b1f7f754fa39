import type { Party } from '../../src/model/index.ts';
import type { Weight } from '../call/answers.ts';
import type { FoundFinding } from './queries.ts';

/** Which findings are shown, by where they stand. */
export type Stand = 'all' | 'mine' | 'conflicting' | 'open' | 'settled';

/** What is shown of a list of findings. */
export interface FindingFilter {
  readonly stand: Stand;
  readonly weight: Weight | 'all';
}

/** Whether a finding waits for a side: it stops or wants a look, and that side has said nothing of it. */
function waitsFor({ weight, ruling }: FoundFinding, side: Party | null): boolean {
  return side !== null && weight !== 'note' && ruling.state !== 'settled' && ruling[side] === null;
}

/** The finding after one that waits for a side, in the order of the book and round to its beginning. */
export function nextWaiting(
  all: readonly FoundFinding[],
  after: FoundFinding,
  side: Party | null,
): FoundFinding | undefined {
  const inOrder = byPage(all).flatMap(([, findings]) => findings);
  const at = inOrder.findIndex(({ id }) => id === after.id);
  return [...inOrder.slice(at + 1), ...inOrder.slice(0, at)].find((one) => waitsFor(one, side));
}

/** Whether a finding still stands in the way: not settled as agreed, and more than a note. */
export function isOpen({ weight, ruling }: FoundFinding): boolean {
  return weight !== 'note' && !(ruling.state === 'settled' && ruling.publisher?.decision === 'agreed');
}

/** The findings that a filter shows, for somebody of a side. */
export function shownBy(
  { stand, weight }: FindingFilter,
  all: readonly FoundFinding[],
  side: Party | null,
): readonly FoundFinding[] {
  return all.filter((one) => {
    if (weight !== 'all' && one.weight !== weight) return false;
    if (stand === 'mine') return waitsFor(one, side);
    if (stand === 'open') return isOpen(one);
    return stand === 'all' || one.ruling.state === stand;
  });
}

/** Findings by the page that they are on, in order; those of no page come first. */
export function byPage(
  findings: readonly FoundFinding[],
): readonly (readonly [number | null, readonly FoundFinding[]])[] {
  const pages = Map.groupBy(findings, ({ finding }) => finding.dummyPage ?? finding.revisionPage);
  return [...pages].sort(([one], [other]) => (one ?? 0) - (other ?? 0));
}
