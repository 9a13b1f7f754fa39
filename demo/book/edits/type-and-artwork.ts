import type { Mm } from '../../../src/model/index.ts';
import type { PageItem, TextItem, TextLine } from '../spec.ts';
import { changePage } from './pages.ts';
import type { Edit } from './pages.ts';

/**
 * Alters the one line of a page that has certain words in it; the lines around it stay.
 *
 * @throws {Error} when no line or more than one has them
 */
function changeLine(pageNumber: number, words: string, change: (line: TextLine) => TextLine): Edit {
  return changePage(pageNumber, (page) => {
    let met = 0;
    const items = page.items.map((item): PageItem => {
      if (item.kind !== 'text') return item;
      const lines = item.lines.map((line) => {
        if (!line.text.includes(words)) return line;
        met += 1;
        return change(line);
      });
      return { ...item, lines };
    });
    if (met !== 1) throw new Error(`${met} lines of page ${pageNumber} have “${words}”`);
    return { ...page, items };
  });
}

/** Alters the nth line of a page in one of type's roles, counted from 1. */
export function changeNthLine(
  pageNumber: number,
  role: TextItem['role'],
  nth: number,
  change: (line: TextLine) => TextLine,
): Edit {
  return (altered) => {
    let met = 0;
    const edit = changeText(pageNumber, role, (line) => {
      met += 1;
      return met === nth ? change(line) : line;
    });
    const changed = edit(altered);
    if (met < nth) throw new Error(`page ${pageNumber} has ${met} lines of ${role}`);
    return changed;
  };
}

/** Other words in a line. */
export function rewrite(pageNumber: number, before: string, after: string): Edit {
  return changeLine(pageNumber, before, (line) => ({ ...line, text: line.text.replace(before, after) }));
}

export function moveLine(pageNumber: number, words: string, rightMm: Mm, downMm: Mm): Edit {
  return changeLine(pageNumber, words, (line) => ({ ...line, x: line.x + rightMm, baseline: line.baseline + downMm }));
}

/** All type of a page in one of its roles. */
export function changeText(pageNumber: number, role: TextItem['role'], change: (line: TextLine) => TextLine): Edit {
  return changePage(pageNumber, (page) => ({
    ...page,
    items: page.items.map((item) =>
      item.kind === 'text' && item.role === role ? { ...item, lines: item.lines.map(change) } : item,
    ),
  }));
}

/** Alters the nth item of a kind on a page, counted from 1; null takes it away. */
export function changeArtwork<K extends 'rule' | 'tint' | 'path'>(
  pageNumber: number,
  kind: K,
  nth: number,
  change: (item: Extract<PageItem, { kind: K }>) => PageItem | null,
): Edit {
  return changePage(pageNumber, (page) => {
    let met = 0;
    const items = page.items.flatMap((item): readonly PageItem[] => {
      if (!isKind(item, kind)) return [item];
      met += 1;
      if (met !== nth) return [item];
      const changed = change(item);
      return changed === null ? [] : [changed];
    });
    if (met < nth) throw new Error(`page ${pageNumber} has ${met} of ${kind}`);
    return { ...page, items };
  });
}

/** Puts something on top of a page. */
export function addArtwork(pageNumber: number, item: PageItem): Edit {
  return changePage(pageNumber, (page) => ({ ...page, items: [...page.items, item] }));
}

function isKind<K extends PageItem['kind']>(item: PageItem, kind: K): item is Extract<PageItem, { kind: K }> {
  return item.kind === kind;
}
