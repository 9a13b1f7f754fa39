import { useVirtualizer } from '@tanstack/react-virtual';
import { useRef } from 'react';
import { Link } from 'wouter';
import { paths } from '../paths.ts';
import { words } from '../words/index.ts';
import { pictureOf, type BookPage } from '../book/queries.ts';

const said = words.release;
/** A leaf and its gap, in CSS pixels, and the number below it. */
const LEAF_PX = 104;
const PLACE_PX = LEAF_PX + 12;
const NUMBER_PX = 32;
const AHEAD = 4;

interface StripGiven {
  readonly titleId: string;
  readonly fileId: string;
  readonly pages: readonly BookPage[];
}

/** The pages that are signed, in their order, as small pictures; only those near the window of the strip are there. */
export function PageStrip({ titleId, fileId, pages }: StripGiven) {
  const strip = useRef<HTMLDivElement>(null);
  // eslint-disable-next-line react-hooks/incompatible-library -- nothing here is compiled to remember what it returns
  const places = useVirtualizer({
    count: pages.length,
    horizontal: true,
    getScrollElement: () => strip.current,
    estimateSize: () => PLACE_PX,
    overscan: AHEAD,
  });
  const shape = Math.max(...pages.map(({ trimmed }) => (trimmed === null ? 0 : trimmed.height / trimmed.width)), 0.5);
  const height = Math.round(LEAF_PX * shape);
  return (
    <div className="page-strip" ref={strip} tabIndex={0} role="region" aria-label={said.pagesInOrder}>
      <ol style={{ width: places.getTotalSize(), height: height + NUMBER_PX }}>
        {places.getVirtualItems().map(({ index, start }) => {
          const page = pages[index];
          return page === undefined ? null : (
            <li
              key={index}
              aria-setsize={pages.length}
              aria-posinset={index + 1}
              style={{ transform: `translateX(${start}px)`, width: LEAF_PX }}
            >
              <Leaf titleId={titleId} fileId={fileId} page={page} height={height} />
            </li>
          );
        })}
      </ol>
    </div>
  );
}

interface LeafGiven {
  readonly titleId: string;
  readonly fileId: string;
  readonly page: BookPage;
  readonly height: number;
}

function Leaf({ titleId, fileId, page, height }: LeafGiven) {
  const { pageNumber, unreadable } = page;
  return (
    <>
      <Link href={paths.look(titleId, fileId, pageNumber)}>
        {unreadable === null ? (
          <img
            src={pictureOf(page, LEAF_PX)}
            srcSet={`${pictureOf(page, LEAF_PX)} 1x, ${pictureOf(page, LEAF_PX * 2)} 2x`}
            alt={said.page(pageNumber)}
            width={LEAF_PX}
            style={{ maxHeight: height }}
          />
        ) : (
          <span className="torn">{said.torn(pageNumber)}</span>
        )}
      </Link>
      <span className="small soft" aria-hidden="true">
        {pageNumber}
      </span>
    </>
  );
}
