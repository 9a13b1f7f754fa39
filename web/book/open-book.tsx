import { useWindowVirtualizer } from '@tanstack/react-virtual';
import { useLayoutEffect, useState } from 'react';
import { paths } from '../paths.ts';
import { words } from '../words/index.ts';
import type { PageMarks } from './marks-of-pages.ts';
import { MoveLines } from './move-lines.tsx';
import type { MovedPage } from './moved-pages.ts';
import { PageLeaf } from './page-leaf.tsx';
import type { BookPage } from './queries.ts';
import { spreadsOf } from './spreads.ts';
import type { Spread } from './spreads.ts';
import { useWidth } from '../pieces/use-width.ts';

/** One of the books that lie open. */
export interface ShownBook {
  readonly of: 'dummy' | 'revision';
  readonly pages: readonly BookPage[];
}

interface OpenGiven {
  readonly titleId: string;
  /** The file that is looked at; its pages lead to the close look. */
  readonly fileId: string;
  readonly books: readonly ShownBook[];
  readonly marks: PageMarks;
  readonly moved: readonly MovedPage[];
  /** The page of the file that shows a page of the dummy; null where it is gone. */
  readonly shownAs: (dummyPage: number) => number | null;
}

const BETWEEN = 56;
const CAPTION = 34;
const WIDEST_LEAF = 190;
const AHEAD = 4;

/** Two books open beside each other, spread by spread; only what is near the window is there at all. */
export function OpenBook({ titleId, fileId, books, marks, moved, shownAs }: OpenGiven) {
  const [bed, width] = useWidth<HTMLDivElement>();
  const [top, setTop] = useState(0);
  useLayoutEffect(() => setTop((bed.current?.getBoundingClientRect().top ?? 0) + window.scrollY), [bed, width]);
  const between = width < 700 ? BETWEEN / 2 : BETWEEN;
  const column = (width - (books.length - 1) * between) / books.length;
  const leaf = Math.max(20, Math.min(WIDEST_LEAF, Math.floor(column / 2) - 1));
  const height = Math.round(leaf * tallest(books));
  const spreads = spreadsOf(Math.max(...books.map(({ pages }) => pages.length)));
  const rowHeight = height + CAPTION;
  const rows = useWindowVirtualizer({
    count: spreads.length,
    estimateSize: () => rowHeight,
    overscan: AHEAD,
    scrollMargin: top,
  });
  useLayoutEffect(() => rows.measure(), [rows, rowHeight]);
  const end = (column + leaf * 2) / 2;
  const leads = (of: ShownBook['of'], page: number): string | null => {
    const shown = of === 'revision' ? page : shownAs(page);
    return shown === null ? null : paths.look(titleId, fileId, shown);
  };
  const leafOf = ({ of, pages }: ShownBook, page: number | null) => (
    <PageLeaf
      of={of}
      page={page === null ? undefined : pages[page - 1]}
      mark={page === null ? undefined : marks[of].get(page)}
      to={page === null ? null : leads(of, page)}
      width={leaf}
      height={height}
    />
  );
  return (
    <div className="open-book" ref={bed} style={{ height: spreads.length * rowHeight }}>
      {width > 0 && books.length > 1 && (
        <MoveLines
          moved={moved}
          rowHeight={rowHeight}
          rows={spreads.length}
          from={end}
          to={column + between + (column - leaf * 2) / 2}
        />
      )}
      <ol className="spreads" aria-label={words.book.spreads}>
        {(width > 0 ? rows.getVirtualItems() : []).map(({ index, start }) => {
          const spread = spreads[index] ?? { left: null, right: null };
          return (
            <li
              key={index}
              className="spread-row"
              aria-setsize={spreads.length}
              aria-posinset={index + 1}
              style={{ height: rowHeight, gap: between, transform: `translateY(${start - top}px)` }}
            >
              {books.map((book) => (
                <figure key={book.of} className="spread" style={{ width: column }}>
                  <div className="spread-leaves">
                    {leafOf(book, spread.left)}
                    {leafOf(book, spread.right)}
                  </div>
                  <figcaption>{captionOf(book, spread)}</figcaption>
                </figure>
              ))}
            </li>
          );
        })}
      </ol>
    </div>
  );
}

function captionOf({ pages }: ShownBook, { left, right }: Spread): string {
  const there = [left, right].filter((page): page is number => page !== null && page <= pages.length);
  return there.join('–');
}

/** Height over width of the pages, so that every row is as high as the tallest needs. */
function tallest(books: readonly ShownBook[]): number {
  const shapes = books.flatMap(({ pages }) =>
    pages.flatMap(({ trimmed }) => (trimmed === null ? [] : [trimmed.height / trimmed.width])),
  );
  return shapes.length === 0 ? Math.SQRT2 : Math.max(...shapes);
}
