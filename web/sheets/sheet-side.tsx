import type { ReportCell } from '../../src/model/index.ts';
import { Link } from 'wouter';
import type { PageMark } from '../book/marks-of-pages.ts';
import { WeightSign } from '../book/weight-sign.tsx';
import { paths } from '../paths.ts';
import { words } from '../words/index.ts';
import { pictureOf, type KnownFinding } from '../book/queries.ts';
import type { Sheets } from './queries.ts';

interface SideGiven {
  readonly titleId: string;
  readonly fileId: string;
  readonly side: Sheets['sides'][number];
  /** By page of the folded book. */
  readonly marks: ReadonlyMap<number, PageMark>;
  /** What is wrong with its plates. */
  readonly onPlates: readonly KnownFinding[];
}

/** Wide enough that pages of a sheet can be told from each other on a desk. */
const WIDTH_PX = 1280;
const said = words.sheets;

/** A side of a sheet as it is printed, and over each cell the page that lies there. */
export function SheetSide({ titleId, fileId, side, marks, onPlates }: SideGiven) {
  const { sheet, filePage, width, height, cells } = side;
  const name = said.side(sheet, side.side);
  const id = `side-${filePage}`;
  return (
    <section className="section" id={id} aria-labelledby={`${id}-name`}>
      <h2 id={`${id}-name`}>{name}</h2>
      <div className="sheet-side" style={{ aspectRatio: `${width} / ${height}` }}>
        <img src={pictureOf(side, WIDTH_PX)} alt={name} loading="lazy" decoding="async" />
        <ol className="sheet-cells">
          {cells.map((cell) => (
            <li key={`${cell.row}/${cell.column}`} style={placed(cell, { width, height })}>
              <Cell titleId={titleId} fileId={fileId} cell={cell} mark={marks.get(cell.page ?? 0)} />
            </li>
          ))}
        </ol>
      </div>
      {onPlates.length > 0 && (
        <ul className="stack">
          {onPlates.map(({ id: findingId, weight, finding }) => (
            <li key={findingId}>
              <span className={`page-mark ${weight}`}>
                <WeightSign weight={weight} /> {words.files.weights[weight]}
              </span>{' '}
              <Link href={paths.finding(titleId, fileId, findingId)}>{finding.says}</Link>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

function Cell({
  titleId,
  fileId,
  cell: { page, turnDeg },
  mark,
}: {
  readonly titleId: string;
  readonly fileId: string;
  readonly cell: ReportCell;
  readonly mark: PageMark | undefined;
}) {
  if (page === null) return <span className="sheet-cell">{said.blank}</span>;
  return (
    <Link className="sheet-cell" href={paths.look(titleId, fileId, page)}>
      <span className="cell-name">
        <span className="unseen">{said.page}</span> {page}
        <span aria-hidden="true"> {said.turned[turnDeg]}</span>
        <span className="unseen">{said.turnedSays[turnDeg]}</span>
      </span>
      {mark !== undefined && (
        <span className={`page-mark ${mark.weight}`}>
          <WeightSign weight={mark.weight} /> {words.book.mark(mark.weight, mark.findings)}
        </span>
      )}
    </Link>
  );
}

/** Where a cell lies, in parts of its side. */
function placed({ box }: ReportCell, sheet: { readonly width: number; readonly height: number }) {
  const share = (part: number, of: number): string => `${((100 * part) / of).toFixed(3)}%`;
  return {
    left: share(box.x, sheet.width),
    top: share(box.y, sheet.height),
    width: share(box.width, sheet.width),
    height: share(box.height, sheet.height),
  };
}
