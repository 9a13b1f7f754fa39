import { figures } from './figures.ts';

const states = {
  none: 'Nobody has ruled',
  'one-side': 'One side has ruled',
  conflicting: 'The rulings conflict',
  settled: 'Settled',
} as const;
const sides = { dummy: 'Dummy', revision: 'This file', difference: 'Difference' } as const;
const decisions = { agreed: 'Agreed', 'to-be-put-right': 'To be put right' } as const;
const accounts = {
  'authors-alteration': 'Author’s alteration',
  'printers-error': 'Printer’s error',
  shared: 'Shared',
  'not-settled': 'Account not settled',
} as const;

/** Findings: looked at, talked about, ruled on. */
export const decide = {
  heading: 'Findings',
  states,
  sides,
  decisions,
  accounts,
  exhibitOf: (side: keyof typeof sides, mark: string) => `${sides[side]}, where finding ${mark} is`,
  nothing: 'Has not ruled',
  older: 'Was there before',
  choose: (mark: string) => `Choose ${mark}`,
  remarks: (count: number) => figures.some(count, 'remark', 'remarks'),
  asPdf: 'This report as PDF',
  byPage: 'Findings, page by page',
  page: (page: number | null) => (page === null ? 'Of the whole book' : `Page ${page}`),
  standLabel: 'Show',
  weightLabel: 'Weight',
  stands: {
    all: 'All',
    mine: 'Waiting for my side',
    open: 'Standing in the way of plates',
    conflicting: 'In conflict',
    settled: 'Settled',
  },
  noneShown: 'No finding of this kind',
  noneShownNext: 'Choose “All” above to see every finding of this file.',
  choosing: 'Chosen findings',
  chosen: (count: number) => (count === 0 ? 'None chosen' : `${figures.count(count)} chosen`),
  rule: 'Rule on them',
  chooseNone: 'Choose none',
  chooseShown: (count: number) => `Choose all ${figures.count(count)} shown`,
  ruleHeading: (count: number) => `Rule on ${figures.some(count, 'finding', 'findings')}`,
  whatBecomes: 'What is to become of it?',
  onWhoseAccount: 'On whose account?',
  decisionsLong: {
    agreed: ['Agreed', 'It may stay as it is in this file.'],
    'to-be-put-right': ['To be put right', 'It may not go to plates as it is.'],
  } as Readonly<Record<keyof typeof decisions, readonly [string, string]>>,
  accountsLong: {
    'authors-alteration': ['Author’s alteration', 'The publisher’s side wanted it.'],
    'printers-error': ['Printer’s error', 'The printer’s side made it.'],
    shared: ['Shared', 'Both carry it.'],
    'not-settled': ['Not settled', 'To be talked about.'],
  } as Readonly<Record<keyof typeof accounts, readonly [string, string]>>,
  chooseBoth: 'Choose one of each; then you read the statement and sign it.',
  signRuling: 'Sign the ruling',
  notHere: 'This finding is not in this file’s newest report.',
  lookClosely: 'Look closely at the page',
  bothSay: 'What both sides say',
  yourWord: 'Your side’s word',
  talk: 'Conversation',
  history: 'Where it comes from',
  brought: 'brought it',
  inFile: {
    there: 'it is there',
    changed: 'something else differs at its place',
    gone: 'the place is as in the dummy',
    'not-compared': 'not compared with this dummy',
  },
  noRemark: 'Nobody has said anything yet. What is written here stays in the record and binds nobody.',
  noRemarkYet: 'Nobody has said anything yet.',
  remark: 'Say something about it',
  remarkHint: 'It stays in the record for good. It binds nobody; what binds is signed.',
  saying: 'Saying it',
  say: 'Say it',
};
