import type { PageRange, Weight } from '../../call/answers.ts';
import { figures } from './figures.ts';

const weights: Readonly<Record<Weight, string>> = { stop: 'Stops it', look: 'Wants a look', note: 'Noted' };

const dummyStandings = {
  sent: 'To be signed by both',
  'half-signed': 'Signed by one side',
  'in-force': 'In force: signed by both',
  replaced: 'Was in force, replaced',
  withdrawn: 'Withdrawn',
} as const;

const wordsOf = ({ first, last }: PageRange): string => (first === last ? `${first}` : `${first}–${last}`);

/** Files of a part, and the work on them. */
export const files = {
  heading: 'Files',
  none: 'No file yet',
  noneNext:
    'The first file of a part is its dummy: cheap pages in the right order, which both sides sign. Drop it anywhere on this page.',
  noneWait: 'Whoever of the two sides may send files sends the dummy first.',
  dummyStandings,
  weights,
  by: (name: string, moment: string) => `${name}, ${moment}`,
  replaces: (pages: readonly PageRange[]) => `Pages ${pages.map(wordsOf).join(', ')} laid over the file before it`,
  sender: 'Sent by',
  remark: 'Remark',
  hash: 'SHA-256',
  download: 'Save the file as it came',
  work: 'What is done with it',
  reading: 'Reading',
  comparing: 'Comparing with the dummy',
  drawing: 'Pictures of the findings',
  jobStates: { waiting: 'waits its turn', running: 'under way', done: 'done', failed: 'failed' },
  notAsked: 'not yet',
  progress: (done: number, total: number) =>
    total > 0 ? `${figures.count(done)} of ${figures.count(total)}` : 'begins',
  failed: 'This file could not be worked on',
  failedSafe: 'The file is kept as it came, and nothing that was signed before is touched.',
  failedNext: 'Have it tried again, or write it anew from its program and send that.',
  retry: 'Try again',
  retrying: 'Trying again',
  firstFindings: 'First findings',
  firstFindingsSay: 'They come while later pages are still being read. The report settles what stays of them.',
  soFar: (count: number) => `${figures.some(count, 'finding', 'findings')} so far`,
  moreFindings: (count: number) => `And ${figures.some(count, 'more', 'more')}.`,
  onPage: (dummyPage: number | null, revisionPage: number | null) =>
    dummyPage !== null ? `Page ${dummyPage}` : revisionPage !== null ? `Page ${revisionPage} of the file` : 'The book',
  match: 'It matches the dummy',
  matchSays:
    'Every page shows what was signed. That is no statement on colour: the proof and the pass on press decide it.',
  differs: (count: number) => `It differs from the dummy: ${figures.some(count, 'finding', 'findings')}`,
  counts: (weight: Weight, count: number) =>
    ({
      stop: figures.some(count, 'stops it', 'stop it'),
      look: figures.some(count, 'wants a look', 'want a look'),
      note: figures.some(count, 'noted', 'noted'),
    })[weight],
  toBook: 'See the book',
  toFindings: 'To the findings',
  toSign: 'To the signing',
  toRelease: 'To the release',
  lineGone: 'Live news are interrupted; they go on by themselves as soon as the service is reached.',
};
