import type { Finding, FindingKind, FindingOf } from '../../model/index.ts';
import type { PairedPages, Pairing } from './page-view.ts';

/**
 * What pairing found, as findings: pages moved, missing, added, repeated, emptied, turned. All weigh `stop`. In the
 * order of the dummy's pages; an added page by its place in the revision.
 */
export function tellOrderFindings(pairing: Pairing): Finding[] {
  const findings: Finding[] = [
    ...pairing.moved.map((move) => {
      const { fromPosition, toPosition } = move;
      const says = `Page ${move.dummyPage} of the dummy now stands at place ${toPosition}.`;
      return stop('page-moved', move, { fromPosition, toPosition }, says);
    }),
    ...pairing.missing.map((dummyPage) => {
      const says = `Page ${dummyPage} of the dummy is missing from the revision.`;
      return stop('page-missing', { dummyPage, revisionPage: null }, {}, says);
    }),
    ...pairing.added.map((revisionPage) => {
      const says = `Page ${revisionPage} of the revision is not in the dummy.`;
      return stop('page-added', { dummyPage: null, revisionPage }, {}, says);
    }),
    ...pairing.repeated.map((page) => {
      const { dummyPage, revisionPage, firstAt } = page;
      const says = `Page ${dummyPage} of the dummy stands twice: at place ${firstAt} and again at place ${revisionPage}.`;
      return stop('page-repeated', page, { firstAt }, says);
    }),
    ...pairing.pairs.flatMap((pair) => {
      if (!pair.emptied) return [];
      return stop('page-emptied', pair, {}, `${nameOf(pair)} is blank: what the dummy shows there is gone.`);
    }),
    ...pairing.pairs.flatMap((pair) => {
      const degrees = pair.turnedDeg;
      if (degrees === 0) return [];
      return stop('page-turned', pair, { degrees }, `${nameOf(pair)} is turned by ${degrees} degrees clockwise.`);
    }),
  ];
  const placeOf = ({ dummyPage, revisionPage }: Finding) => dummyPage ?? revisionPage ?? 0;
  return findings.sort((a, b) => placeOf(a) - placeOf(b));
}

function nameOf({ dummyPage, revisionPage }: PairedPages): string {
  return dummyPage === revisionPage
    ? `Page ${dummyPage}`
    : `Page ${dummyPage} of the dummy, page ${revisionPage} of the revision,`;
}

function stop<K extends FindingKind>(
  kind: K,
  { dummyPage, revisionPage }: { readonly dummyPage: number | null; readonly revisionPage: number | null },
  measured: FindingOf<K>['measured'],
  says: string,
): FindingOf<K> {
  return { kind, weight: 'stop', dummyPage, revisionPage, box: null, revisionBox: null, measured, says };
}
