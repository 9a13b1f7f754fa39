import type { MovedPage } from './moved-pages.ts';
import { spreadOf } from './spreads.ts';

interface LinesGiven {
  readonly moved: readonly MovedPage[];
  readonly rowHeight: number;
  readonly rows: number;
  /** Where the dummy's column ends and the file's begins, in CSS pixels. */
  readonly from: number;
  readonly to: number;
}

/** A thread from where each moved page stood to where it stands, across what lies between the two books. */
export function MoveLines({ moved, rowHeight, rows, from, to }: LinesGiven) {
  if (moved.length === 0) return null;
  const middle = (page: number): number => (spreadOf(page) + 0.5) * rowHeight;
  const pull = (to - from) / 2;
  return (
    <svg className="move-lines" width={to + 8} height={rows * rowHeight} aria-hidden="true">
      {moved.map(({ dummyPage, revisionPage }) => {
        const [before, after] = [middle(dummyPage), middle(revisionPage)];
        return (
          <g key={`${dummyPage}/${revisionPage}`}>
            <path d={`M${from} ${before}C${from + pull} ${before} ${to - pull} ${after} ${to} ${after}`} />
            <circle cx={from} cy={before} r="4" />
            <circle cx={to} cy={after} r="4" />
          </g>
        );
      })}
    </svg>
  );
}
