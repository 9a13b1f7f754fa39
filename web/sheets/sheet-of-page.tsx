import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import { paths } from '../paths.ts';
import { words } from '../words/index.ts';
import { sheetsQuery } from './queries.ts';

interface PageGiven {
  readonly titleId: string;
  readonly fileId: string;
  readonly pageNumber: number;
}

/** From a page of a folded book back to the side of the sheet on which it lies. */
export function SheetOfPage({ titleId, fileId, pageNumber }: PageGiven) {
  const { data: sheets } = useQuery(sheetsQuery(titleId, fileId));
  const side = sheets?.sides.find(({ cells }) => cells.some(({ page }) => page === pageNumber));
  if (side === undefined) return null;
  return (
    <Link href={`${paths.sheets(titleId, fileId)}#side-${side.filePage}`}>
      {words.sheets.onSide(side.sheet, side.side)}
    </Link>
  );
}
