import type { FindingOf } from '../../model/index.ts';
import type { PageSide } from '../page-sides.ts';
import { formatMm } from './picture-sentences.ts';
import type { VisiblePicture } from './visible-window.ts';

interface Sides {
  readonly dummy: PageSide;
  readonly revision: PageSide;
}

/** A picture of the dummy page that is nowhere on the revision page. */
export function pictureMissing(
  { window }: Pick<VisiblePicture, 'window'>,
  { dummy, revision }: Sides,
): FindingOf<'picture-missing'> {
  return {
    kind: 'picture-missing',
    weight: 'stop',
    dummyPage: dummy.facts.pageNumber,
    revisionPage: revision.facts.pageNumber,
    box: window,
    revisionBox: null,
    measured: {},
    says: `A picture of ${formatMm(window.width)} by ${formatMm(window.height)} is missing from the page.`,
  };
}

/** A picture of the revision page that is nowhere on the dummy page. */
export function pictureAdded(
  { window }: Pick<VisiblePicture, 'window'>,
  { dummy, revision }: Sides,
): FindingOf<'picture-added'> {
  return {
    kind: 'picture-added',
    weight: 'stop',
    dummyPage: dummy.facts.pageNumber,
    revisionPage: revision.facts.pageNumber,
    box: null,
    revisionBox: window,
    measured: {},
    says: `A picture of ${formatMm(window.width)} by ${formatMm(window.height)} stands on the page that the dummy does not have.`,
  };
}
