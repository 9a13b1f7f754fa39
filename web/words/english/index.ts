import { archive } from './archive.ts';
import { book } from './book.ts';
import { decide } from './decide.ts';
import { figures } from './figures.ts';
import { files } from './files.ts';
import { frame } from './frame.ts';
import { keys } from './keys.ts';
import { look } from './look.ts';
import { people } from './people.ts';
import { pieces } from './pieces.ts';
import { prove } from './prove.ts';
import { release } from './release.ts';
import { sending } from './sending.ts';
import { session } from './session.ts';
import { sheets } from './sheets.ts';
import { signing } from './signing.ts';
import { titles } from './titles.ts';
import { trouble } from './trouble.ts';

/** English, by room. */
export const english = {
  archive,
  book,
  decide,
  figures,
  files,
  frame,
  keys,
  look,
  people,
  pieces,
  prove,
  release,
  sending,
  session,
  sheets,
  signing,
  titles,
  trouble,
};
