import { Link } from 'wouter';
import { words } from '../words/index.ts';
import type { PageMark } from './marks-of-pages.ts';
import { pictureOf } from './queries.ts';
import type { BookPage } from './queries.ts';
import { WeightSign } from './weight-sign.tsx';

interface LeafGiven {
  readonly page: BookPage | undefined;
  readonly mark: PageMark | undefined;
  /** Where a press leads; null: nowhere. */
  readonly to: string | null;
  /** In CSS pixels. */
  readonly width: number;
  readonly height: number;
  readonly of: 'dummy' | 'revision';
}

const said = words.book;

/** One page as it lies in the book: its picture, its number, and what was found on it, by shape and word. */
export function PageLeaf({ page, mark, to, width, height, of }: LeafGiven) {
  if (page === undefined) return <span className="book-leaf none" style={{ width, height }} />;
  const { pageNumber, unreadable } = page;
  const alt = said.page(of, pageNumber);
  const picture =
    unreadable !== null ? (
      <span className="book-leaf-unreadable">{said.unreadable}</span>
    ) : (
      <img
        src={pictureOf(page, width)}
        srcSet={`${pictureOf(page, width)} 1x, ${pictureOf(page, width * 2)} 2x`}
        width={width}
        height={height}
        alt={mark === undefined ? alt : `${alt}: ${said.marked(mark.weight, mark.findings)}`}
        loading="lazy"
        decoding="async"
        draggable={false}
      />
    );
  const inside = (
    <>
      {picture}
      {mark !== undefined && (
        <span className={`page-mark ${mark.weight}`} aria-hidden="true">
          <WeightSign weight={mark.weight} /> {said.mark(mark.weight, mark.findings)}
        </span>
      )}
    </>
  );
  const style = { width, height };
  if (to === null) {
    return (
      <span className="book-leaf" style={style}>
        {inside}
      </span>
    );
  }
  return (
    <Link href={to} className="book-leaf" style={style}>
      {inside}
    </Link>
  );
}
