import type { FindingKind } from '../../model/index.ts';

/** What is shown of a finding. */
export interface ExhibitKind {
  /** `close-up`: cut around its box; `page`: always the whole page; `none`: no page is meant. */
  readonly extent: 'close-up' | 'page';
  /** Whether laying one side over the other tells something. */
  readonly overlay: boolean;
  /** `fitted`: after the tone of the revision was fitted to the dummy's; `as-is`: colours as they stand. */
  readonly difference: 'fitted' | 'as-is' | 'none';
}

const pictureKind: ExhibitKind = { extent: 'close-up', overlay: true, difference: 'fitted' };
/** Nothing stands on one side: there is no tone to fit. */
const oneSided: ExhibitKind = { ...pictureKind, difference: 'as-is' };
const pageAlone: ExhibitKind = { extent: 'page', overlay: false, difference: 'none' };

export const EXHIBIT_KINDS: Readonly<Record<FindingKind, ExhibitKind>> = {
  'page-moved': pageAlone,
  'page-missing': pageAlone,
  'page-added': pageAlone,
  'page-repeated': pageAlone,
  'page-emptied': pageAlone,
  'page-resized': { extent: 'page', overlay: true, difference: 'fitted' },
  'page-turned': pageAlone,
  'page-unreadable': pageAlone,
  'page-outdated': pageAlone,
  'page-in-wrong-cell': pageAlone,
  'pages-exchanged': pageAlone,
  'sides-exchanged': pageAlone,
  'section-out-of-order': pageAlone,
  'collating-mark-off': pageAlone,
  'back-out-of-register': pageAlone,
  'page-off-place': pageAlone,
  'creep-off-plan': pageAlone,
  'separation-missing': pageAlone,
  'separation-doubled': pageAlone,
  'separation-of-another-sheet': pageAlone,
  'inks-exchanged': pageAlone,
  'separation-out-of-register': pageAlone,
  'separation-empty': pageAlone,
  'screen-coarse': pageAlone,
  'picture-missing': oneSided,
  'picture-added': oneSided,
  'picture-replaced': pictureKind,
  'picture-moved': pictureKind,
  'picture-resized': pictureKind,
  'crop-altered': pictureKind,
  'picture-turned': pictureKind,
  'picture-mirrored': pictureKind,
  'picture-retouched': pictureKind,
  // A fitted tone would hide the very thing that is reported.
  'picture-recoloured': { extent: 'close-up', overlay: true, difference: 'as-is' },
  'picture-coarse': { extent: 'close-up', overlay: true, difference: 'none' },
  'text-changed': pictureKind,
  'artwork-changed': pictureKind,
};
