import { formatCursor, parseCursor, refuseCursor } from '../cursor.ts';

/** A piece of a list that only grows at its end: its cursor is a place in it. */
export function sliceOf<T>(
  all: readonly T[],
  { after, most }: { readonly after?: string | undefined; readonly most: number },
): { readonly items: readonly T[]; readonly next: string | null } {
  const from = after === undefined ? 0 : Number(parseCursor(after));
  if (!Number.isSafeInteger(from) || from < 0) return refuseCursor();
  const end = from + most;
  return { items: all.slice(from, end), next: end < all.length ? formatCursor(end) : null };
}
