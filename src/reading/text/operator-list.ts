import type { PDFPageProxy } from 'pdfjs-dist';

/** What the renderer draws a page from: operators (numbers of `OPS`) and their operands. */
export interface OperatorList {
  readonly fnArray: readonly number[];
  readonly argsArray: readonly (readonly unknown[] | null)[];
}

/**
 * The operators that a page is being drawn from. Asking the renderer for them in the documented way would decode every
 * picture of the page a second time, so they are taken from the drawing itself.
 *
 * @param page  between the start and the end of a `render`
 * @throws {Error} another version of the renderer keeps them elsewhere
 */
export function operatorListBeingDrawn(page: PDFPageProxy): OperatorList {
  const { _intentStates: states } = page as unknown as { _intentStates?: Map<string, { operatorList?: OperatorList }> };
  const list = states?.values().next().value?.operatorList;
  if (list === undefined) throw new Error('the renderer keeps its operators in another place than in version 6.5.438');
  return list;
}
