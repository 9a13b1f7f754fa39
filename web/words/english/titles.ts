import type { FileKind, PartKind, Wait } from '../../call/answers.ts';
import type { StageName } from '../../../src/model/index.ts';
import { figures } from './figures.ts';

const partKinds: Readonly<Record<PartKind, string>> = {
  'book-block': 'Book block',
  case: 'Case or cover',
  jacket: 'Jacket',
  endpapers: 'Endpapers',
};

const stages: Readonly<Record<StageName, (open: number) => string>> = {
  empty: () => 'No file yet',
  reading: () => 'Being read',
  comparing: () => 'Being compared',
  failed: () => 'A file failed',
  'dummy-to-sign': () => 'Dummy to be signed',
  'dummy-in-force': () => 'Dummy in force',
  'findings-open': (open) => figures.some(open, 'finding open', 'findings open'),
  agrees: () => 'Nothing open',
  'release-to-sign': () => 'Release to be signed',
  released: () => 'Released to plates',
};

const waits: Readonly<Record<Wait['what'], (findings: number) => string>> = {
  'failed-file': () => 'A file could not be read or compared',
  'dummy-to-sign': () => 'A dummy to sign',
  'findings-to-rule-on': (count) => figures.some(count, 'finding to rule on', 'findings to rule on'),
  'release-to-sign': () => 'A release to sign',
};

/** Titles and their parts. */
export const titles = {
  heading: 'Titles',
  waiting: 'What waits for you',
  nothingWaits: 'Nothing waits for you.',
  all: 'All titles',
  search: 'Find a title',
  searchHint: 'By its name, its publisher or its printer.',
  found: (count: number) => figures.some(count, 'title', 'titles'),
  notFound: (text: string) => `No title has “${text}” in its name or its parties.`,
  none: 'No title yet',
  noneNext: 'A title is a book between a publisher and a printer. Open the first one; its dummy comes next.',
  noneWait: 'As soon as your party has a title in which you may look, it stands here.',
  between: (publisher: string, printer: string) => `${publisher}, printed by ${printer}`,
  standing: { publisher: 'You publish it', printer: 'You print it', sight: 'You look on' },
  stage: (stage: StageName, open: number) => stages[stage](open),
  wait: (what: Wait['what'], findings: number) => waits[what](findings),
  waitIn: (part: string, title: string) => `${part} of ${title}`,

  newTitle: 'New title',
  newTitleSays: 'Two sides share a title: whoever publishes the book, and whoever prints it. Yours is one of them.',
  name: 'Name of the title',
  nameHint: 'As both sides call it. It can be changed later; former names stay on record.',
  side: 'Your side',
  sides: { publisher: 'We publish it', printer: 'We print it' },
  other: { publisher: 'The publisher', printer: 'The printer' },
  otherHint: 'A party that yours knows. Others are brought in under People.',
  noOther: 'Your party knows no other yet',
  noOtherNext: 'Bring the other side in first; its first person gets a link with which to make an account.',
  bringIn: 'Bring a party in',
  open: 'Open the title',
  opening: 'Opening the title',

  rename: 'Rename',
  renaming: 'Renaming the title',
  renameDo: 'Rename the title',
  formerNames: 'Formerly called',
  parts: 'Parts',
  noPart: 'No part yet',
  noPartNext:
    'A part is what is proofed on its own: the book block, the case, a jacket, the endpapers. Its dummy comes next.',
  newPart: 'New part',
  partKind: 'Kind of part',
  partKinds,
  partLabel: 'Label',
  partLabelHint: 'Tells two of a kind apart, as “volume 2”. Leave it empty where there is one.',
  openPart: 'Open the part',
  openingPart: 'Opening the part',
  sight: 'Who sees it',
  record: 'Record',
  keys: 'Keys of both sides',
  evidence: 'Evidence',

  fileKind: (kind: FileKind, revisionNumber: number | null) =>
    ({ dummy: 'Dummy', revision: `Revision ${revisionNumber ?? ''}`.trim(), 'plates-input': 'Plates input' })[kind],
};
