import type { FindingKind, Weight } from '../../model/index.ts';

/** The heading of each kind of finding, as a person at a press or a publisher's desk would say it. */
export const FINDING_WORDS: Readonly<Record<FindingKind, string>> = {
  'page-moved': 'Page moved',
  'page-missing': 'Page missing',
  'page-added': 'Page added',
  'page-repeated': 'Page repeated',
  'page-emptied': 'Page emptied',
  'page-resized': 'Page size changed',
  'page-turned': 'Page turned',
  'page-unreadable': 'Page unreadable',
  'page-outdated': 'Page of an earlier file',
  'page-in-wrong-cell': 'Page in the wrong cell',
  'pages-exchanged': 'Pages exchanged on the sheet',
  'sides-exchanged': 'Sides exchanged',
  'section-out-of-order': 'Section out of order',
  'collating-mark-off': 'Collating mark of another section',
  'back-out-of-register': 'Back out of register',
  'page-off-place': 'Gutter or head wrong',
  'creep-off-plan': 'Creep not as planned',
  'separation-missing': 'Separation missing',
  'separation-doubled': 'Separation doubled',
  'separation-of-another-sheet': 'Separation of another sheet',
  'inks-exchanged': 'Inks exchanged',
  'separation-out-of-register': 'Separation out of register',
  'separation-empty': 'Separation empty',
  'screen-coarse': 'Screen too coarse',
  'picture-missing': 'Picture missing',
  'picture-added': 'Picture added',
  'picture-replaced': 'Picture replaced',
  'picture-moved': 'Picture moved',
  'picture-resized': 'Picture resized',
  'crop-altered': 'Crop altered',
  'picture-turned': 'Picture turned',
  'picture-mirrored': 'Picture mirrored',
  'picture-retouched': 'Picture retouched',
  'picture-recoloured': 'Picture recoloured',
  'picture-coarse': 'Picture too coarse',
  'text-changed': 'Text changed',
  'artwork-changed': 'Artwork changed',
};

/** What each weight means, in the order in which they matter. */
export const WEIGHT_WORDS: Readonly<Record<Weight, string>> = {
  stop: 'no plates before somebody decides',
  look: 'probably meant, but a person should see it',
  note: 'for the record',
};

/** The weights, heaviest first. */
export const WEIGHTS: readonly Weight[] = ['stop', 'look', 'note'];
