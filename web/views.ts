import { ARCHIVE_VIEWS } from './archive/views.ts';
import { BOOK_VIEWS } from './book/views.ts';
import { FILE_VIEWS } from './files/views.ts';
import { LOOK_VIEWS } from './look/views.ts';
import { DECIDE_VIEWS } from './decide/views.ts';
import { KEY_VIEWS } from './keys/views.ts';
import { PEOPLE_VIEWS } from './people/views.ts';
import { PROVE_VIEWS } from './prove/views.ts';
import { RELEASE_VIEWS } from './release/views.ts';
import { SHEET_VIEWS } from './sheets/views.ts';
import { SESSION_VIEWS } from './session/views.ts';
import { TITLE_VIEWS } from './titles/views.ts';
import type { View } from './view.ts';

/** Every view there is; each room adds its own. The first that fits an address is shown. */
export const VIEWS: readonly View[] = [
  ...SESSION_VIEWS,
  ...TITLE_VIEWS,
  ...FILE_VIEWS,
  ...BOOK_VIEWS,
  ...LOOK_VIEWS,
  ...SHEET_VIEWS,
  ...DECIDE_VIEWS,
  ...RELEASE_VIEWS,
  ...PROVE_VIEWS,
  ...KEY_VIEWS,
  ...PEOPLE_VIEWS,
  ...ARCHIVE_VIEWS,
];
