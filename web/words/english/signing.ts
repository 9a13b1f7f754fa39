import { figures } from './figures.ts';

const MEMBERS: Readonly<Record<string, string>> = {
  kind: 'What kind of statement it is',
  'title/id': 'The title',
  'title/name': 'The name of the title',
  'signer/party': 'The side that you sign for',
  'signer/name': 'Your name, as in your certificate',
  'signer/organisation': 'Your organisation, as in your certificate',
  'signer/certificate': 'Your certificate',
  at: 'The time, by the clock of this device',
  head: 'The archive’s log, as this browser has seen it before',
  'subject/part/id': 'The part',
  'subject/dummy': 'The dummy',
  'subject/dummy/sha256': 'The dummy’s bytes',
  'subject/dummy/pages': 'Every page of the dummy, in order',
  'subject/inForce': 'The dummy in force',
  'subject/revision': 'The file that is ruled on',
  'subject/report': 'The report, as this browser read it',
  'subject/findings': 'The findings and their words',
  'subject/decision': 'Agreed, or to be put right',
  'subject/account': 'On whose account',
  'subject/platesInput/sha256': 'The plates input’s bytes',
  'subject/platesInput/pages': 'Every page of the plates input, in order',
  'subject/sha256': 'The certificate that it is about',
  'subject/fingerprint': 'Its fingerprint',
  'subject/name': 'Whose it is',
  'subject/organisation': 'For whom they sign',
  'subject/reason': 'Your reason',
  rulings: 'The rulings that it rests on',
};

const KEPT: Readonly<Record<string, string>> = {
  sent: 'The archive keeps what you sent',
  place: 'Its place in the log, by a proof',
};

const outcomes = { holds: 'Holds', fails: 'Does not hold', 'not-checked': 'Not checked' } as const;

/** Signing: one flow for every statement. */
export const signing = {
  heading: 'Sign',
  statement: 'The statement in full',
  keyNeeded: 'Open your key first: its file and its passphrase stay in this browser.',
  noKey: 'I have no key yet.',
  onlySight: 'Only the two sides of a title sign.',
  withKey: (name: string, organisation: string, fingerprint: string) =>
    `Signed by ${name}, for ${organisation}, with the key ${fingerprint}.`,
  read: 'Read what will be signed',
  drafting: 'It is being written and checked',
  back: 'Back',
  notYet: 'Not yet',
  signing: 'It is being signed',
  doing: 'Signing',
  checked: (count: number) => `What this browser has checked: ${figures.some(count, 'thing', 'things')}`,
  checkHeading: 'What was checked',
  checkHeads: ['What', 'Answer', 'Why'],
  outcomes,
  otherwise: (expected: string, found: string) => `expected: ${expected}; found: ${found}`,
  ofDraft: (name: string) => MEMBERS[name] ?? name,
  ofKept: (name: string) => KEPT[name] ?? `Signature: ${name.replaceAll('-', ' ')}`,
  caution:
    'Your signature is evidence of what you stated. What it binds you to is for the contract between the parties and the law of the place.',
  first: 'This browser meets this archive for the first time',
  firstSays: 'It takes the log as it is shown now, and from now on notices if its past is changed.',
  taken: (index: number) => `Signed, and taken as entry ${index} of the log`,
  takenSays:
    'The signature verifies, and a proof leads from the entry to the head of the log, both checked in this browser.',
  takenBadly: 'It was sent, but what came back does not hold',
  takenBadlySays: 'Do not rely on it. Tell the other side by telephone, and whoever runs the archive.',
  unlike: 'Nothing was signed: the draft is not what you were shown',
  unlikeSays: 'The archive wrote something else into the statement than what stood on this page.',
  unlikeNext:
    'Your key was not used. If the page had been open for long, load it again and look anew. If it happens again, do not sign here: ask the other side by telephone what they see.',
  split: 'Nothing was signed: the archive shows another past than before',
  splitHow: {
    shrunk: 'Entries that this browser has seen are gone from the log.',
    rewritten: 'Entries that this browser has seen are others now.',
    unproven: 'The archive does not prove that its log continues the one that this browser has seen.',
  },
  splitNext:
    'Your key was not used, and what you signed before stays signed. Save both heads, which the archive signed: they are proof. Then call the other side, and ask whoever runs the archive. Until that is explained, nothing can be signed from this browser.',
  splitSave: 'Save both heads',
};
