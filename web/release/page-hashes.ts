import type { BookPage } from '../book/queries.ts';

/** The pages as they are signed: each by its own content. */
export function hashesOf(pages: readonly BookPage[]): readonly string[] {
  return pages.map(({ contentHash }) => contentHash ?? '');
}
