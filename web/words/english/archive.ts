import { figures } from './figures.ts';
import type { LogEntryKind } from '../../../src/model/index.ts';

const entryKinds: Readonly<Record<LogEntryKind, string>> = {
  'archive-opened': 'Archive opened',
  'party-joined': 'Party brought in',
  'person-joined': 'Person taken in',
  'rights-changed': 'Rights changed',
  'title-opened': 'Title opened',
  'title-renamed': 'Title renamed',
  'part-opened': 'Part opened',
  upload: 'File received',
  report: 'Report made',
  statement: 'Statement signed',
  'key-introduced': 'Key introduced',
  'sight-given': 'Sight given',
  'sight-taken': 'Sight taken back',
  'finding-remark': 'Said of a finding',
  'folding-said-again': 'Folding said again',
  'folding-confirmed': 'Folding confirmed',
  export: 'Handed out',
  'failed-verification': 'Something did not verify',
};

const parties = {
  publisher: 'the publisher',
  printer: 'the printer',
  guest: 'a guest',
  member: 'a party',
  archive: 'the archive itself',
} as const;

/** The archive itself, and its log as people read it. */
export const archive = {
  heading: 'The archive',
  says: 'Nothing here is deleted or overwritten. What is done gets an entry in a log whose heads the archive signs; anybody who remembers an earlier head can see that the log only went on from it.',
  key: 'Key of the archive',
  origin: 'Name',
  verifierKey: 'Key',
  keySays: 'Note this key once, outside of this service. Whatever the archive signs is checked with it.',
  head: 'Latest head of the log',
  entries: 'Entries',
  root: 'Root',
  headAt: 'Signed',
  note: 'The signed note',
  stamps: 'Time-stamp of this head',
  stampHeld: (authority: string, at: string) => `Held, from ${authority}, ${at}.`,
  stampPending: (authority: string) => `Still to come from ${authority}.`,
  stampPendingNext:
    'It is asked for again by itself. What was signed stands without it; only the moment is then by the archive’s own clock.',
  stampsPending: (heads: number, since: string) =>
    heads === 1
      ? `A head of the log waits for its time-stamp, since ${since}.`
      : `${heads} heads of the log wait for their time-stamps, the oldest since ${since}.`,
  noAuthority: 'No authority for time-stamps is configured',
  noAuthoritySays:
    'Moments are by the archive’s own clock. Whoever runs this service can name an authority (RFC 3161); heads signed from then on get its stamp.',
  noStampYet: 'This head has no time-stamp.',
  disk: 'Room on the disk',
  free: (free: string, total: string) => `${free} free of ${total}`,
  low: 'The disk is nearly full',
  lowSays: 'What is kept is safe; new files may be refused. Whoever runs this service should give it more room.',
  jobs: 'Work on files',
  jobsSay: (running: number, waiting: number) => `${running} under way, ${waiting} waiting`,
  largest: 'Largest file that is taken',
  scrub: 'Whether everything is whole',
  scrubSays:
    'Every file is read again and held against its hash, and every entry, head and signature of the log. It takes as long as reading the disk; work goes on meanwhile. Nothing is changed by it.',
  scrubBegin: 'Read everything again',
  scrubbing: 'Reading everything again',
  scrubNone: 'Nobody has asked for it yet.',
  scrubRuns: (since: string) => `It is being read, since ${since}.`,
  scrubSound: (at: string) => `The archive is whole, as read on ${at}`,
  scrubFaults: (count: number, at: string) =>
    `${figures.some(count, 'thing is', 'things are')} damaged, missing or not where it belongs, as read on ${at}`,
  scrubBroken: (at: string) => `The reading broke off on ${at}`,
  scrubRead: (files: number, size: string, entries: number) =>
    `${figures.some(files, 'file', 'files')} of ${size} and ${figures.some(entries, 'entry', 'entries')} of the log were read.`,
  scrubNext:
    'Whoever runs this service finds each by the command “witnessleaf scrub”. Please bring back what is missing from a copy of the archive; nothing here is overwritten.',

  record: 'Record',
  recordSays: 'Everything that was done on this title, in the order of the log.',
  entryKinds,
  partyOf: (party: keyof typeof parties) => parties[party],
  when: 'When',
  what: 'What',
  who: 'By',
  number: 'Entry',
  onlyKind: 'Only',
  everyKind: 'Everything',
  since: 'Since',
  text: 'With the words',
  shown: (shown: number, all: number) => `${shown} of ${all} entries`,
  noneShown: 'No entry fits. Nothing is lost: loosen what is asked for.',
  save: 'Save as a table (CSV)',
  saveJson: 'Save as it is kept (JSON)',
  columns: ['entry', 'at', 'kind', 'by', 'person', 'remark', 'subjects', 'leaf hash'] as const,
  subjects: 'About',
  leafHash: 'Hash in the log',
  details: 'Details',
  statements: 'What was signed',
};
