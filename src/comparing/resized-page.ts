import type { FindingOf, PageFacts, Tolerances } from '../model/index.ts';

/** The finding for a page whose trimmed size differs, or null. */
export function resizedPage(
  dummy: PageFacts,
  revision: PageFacts,
  tolerances: Tolerances,
): FindingOf<'page-resized'> | null {
  const [was, is] = [dummy.trimmed, revision.trimmed];
  if (Math.abs(was.width - is.width) <= tolerances.trimMm && Math.abs(was.height - is.height) <= tolerances.trimMm) {
    return null;
  }
  const size = ({ width, height }: { width: number; height: number }): string =>
    `${width.toFixed(1)} x ${height.toFixed(1)} mm`;
  return {
    kind: 'page-resized',
    weight: 'stop',
    dummyPage: dummy.pageNumber,
    revisionPage: revision.pageNumber,
    box: { x: 0, y: 0, ...was },
    revisionBox: { x: 0, y: 0, ...is },
    measured: { dummyMm: { ...was }, revisionMm: { ...is } },
    says: `The trimmed page measures ${size(is)}; in the dummy it measures ${size(was)}.`,
  };
}
