import { preparePage } from '../../../src/comparing/page-sides.ts';
import { compareText } from '../../../src/comparing/text/compare-text.ts';
import type { Finding } from '../../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import type { TypeLine } from '../set-type.ts';
import { drawFine, drawPage } from '../sketched-page.ts';

/** What is told of a page that tells words and one that shows them in outlines, by default the revision. */
export function toldOfOutlines(
  size: { readonly width: number; readonly height: number },
  before: readonly TypeLine[],
  after: readonly TypeLine[],
  outlined: 'dummy' | 'revision' = 'revision',
): readonly Finding[] {
  const dummy = outlined === 'dummy' ? { size, outlined: before } : { size, lines: before };
  const revision = outlined === 'revision' ? { size, outlined: after } : { size, lines: after };
  const sides = { dummy: preparePage(drawPage(dummy)), revision: preparePage(drawPage(revision)) };
  return compareText(sides, drawFine(dummy, revision), [], DEFAULT_TOLERANCES).findings;
}
