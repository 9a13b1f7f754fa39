import { recognisePage } from '../../plates/index.ts';
import type { FoundSide, KnownPage, MarkedGrid } from '../../plates/index.ts';
import type { SheetsRead } from './read-sheets.ts';

/** The pages of the dummy as they are recognised by. */
export function knownPages({ pages }: Pick<SheetsRead, 'pages'>): readonly KnownPage[] {
  return pages.flatMap((page) => (page === null ? [] : [page.known]));
}

/** Which pages stand on a side, where its pages lie by a grid. */
export function recognisedOn(read: SheetsRead, index: number, { columnsMm, rowsMm, onSide }: MarkedGrid): FoundSide {
  const { grey } = read.sides[index]!;
  const known = knownPages(read);
  const { width, height } = read.trimmed;
  const size = onSide ? { width: height, height: width } : { width, height };
  return {
    rows: rowsMm.length,
    columns: columnsMm.length,
    onSide,
    cells: rowsMm.flatMap((y) => columnsMm.map((x) => recognisePage(grey, { x, y, ...size }, onSide ? 90 : 0, known))),
  };
}
