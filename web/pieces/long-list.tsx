import { useWindowVirtualizer } from '@tanstack/react-virtual';
import { useLayoutEffect, useState, type ReactNode } from 'react';
import { useWidth } from './use-width.ts';

interface LongListGiven<T> {
  readonly label: string;
  readonly items: readonly T[];
  readonly keyOf: (item: T) => string | number;
  /** About how high one is before it was shown, in CSS pixels. */
  readonly about: (item: T) => number;
  readonly shows: (item: T) => ReactNode;
}

/** So many are kept ready beyond the window, for the wheel and for the tabulator key. */
const AHEAD = 3;

/** A long list down the page, of which only what is near the window is there at all; each item is as high as it is. */
export function LongList<T>({ label, items, keyOf, about, shows }: LongListGiven<T>) {
  const [list, width] = useWidth<HTMLOListElement>();
  const [top, setTop] = useState(0);
  // what stands above it may have become higher or lower
  useLayoutEffect(() => {
    const now = (list.current?.getBoundingClientRect().top ?? 0) + window.scrollY;
    if (Math.abs(now - top) > 1) setTop(now);
  }, [list, width, top, items]);
  const rows = useWindowVirtualizer({
    count: items.length,
    estimateSize: (index) => {
      const item = items[index];
      return item === undefined ? 0 : about(item);
    },
    getItemKey: (index) => {
      const item = items[index];
      return item === undefined ? index : keyOf(item);
    },
    overscan: AHEAD,
    scrollMargin: top,
  });
  const shown = rows.getVirtualItems();
  return (
    <ol className="long-list" ref={list} aria-label={label} style={{ height: rows.getTotalSize() }}>
      {shown.map(({ index, key, start }) => {
        const item = items[index];
        return item === undefined ? null : (
          <li
            key={key}
            data-index={index}
            ref={rows.measureElement}
            aria-setsize={items.length}
            aria-posinset={index + 1}
            style={{ transform: `translateY(${start - top}px)` }}
          >
            {shows(item)}
          </li>
        );
      })}
    </ol>
  );
}
