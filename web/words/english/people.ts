import type { Right, Standing } from '../../call/answers.ts';

const rights: Readonly<Record<Right, string>> = {
  look: 'Look',
  'send-files': 'Send files',
  sign: 'Sign and rule, and bring people in',
};

const does: Readonly<Record<Right, string>> = { look: 'looks', 'send-files': 'sends files', sign: 'signs' };

const standings: Readonly<Record<Standing, string>> = { publisher: 'Publisher', printer: 'Printer', sight: 'Looks on' };

/** People, parties, rights, accounts. */
export const people = {
  heading: 'People',
  own: (party: string) => `People of ${party}`,
  name: 'Name',
  rightsHead: 'May',
  rights,
  does: (given: readonly Right[]) =>
    given.length === 0 ? 'nothing yet' : given.map((right) => does[right]).join(', '),
  account: 'Account',
  hasAccount: 'has come in',
  noAccount: 'invited, not in yet',
  doesHead: 'Here',
  change: 'Change rights',
  changeOf: (name: string) => `Change rights of ${name}`,
  keep: 'Keep these rights',
  changing: 'Changing rights',
  take: 'Take somebody in',
  takeDo: 'Take them in',
  taking: 'Taking somebody in',
  certified: 'As their certificate will have it: it stands under what they sign.',
  inviteAgain: 'Another link',
  inviting: 'Making the link',
  parties: 'Parties that yours knows',
  partiesSay:
    'A publisher, a printer, a studio, a designer: whoever is to be on the other side of a title, or to look on.',
  noParty: 'No other party yet',
  noPartyNext: 'Bring in the other side of your first title.',
  bringIn: 'Bring a party in',
  bringInDo: 'Bring it in',
  bringing: 'Bringing the party in',
  party: 'Name of the party',
  partyHint: 'As its certificates will have it.',
  first: 'Its first person',
  mayNot: 'Who comes in and what people may do is decided by those of your party who may sign.',
  link: 'The link is made',
  linkSays: (name: string, until: string) =>
    `Give it to ${name} yourself, by a way that you trust. It is good once, until ${until}, and it is shown only now.`,
  linkLabel: 'Link',
  copy: 'Copy the link',
  copied: 'Copied.',

  sight: 'Who sees it',
  sightSays:
    'Both sides see everything of a title. Others, as an author or a designer, see it when one side gives them sight; they send and sign nothing.',
  standings,
  give: 'Give sight',
  giveTo: 'Party',
  giving: 'Giving sight',
  nobodyToGive: 'Every party that yours knows sees this title already.',
  toTitle: 'To this title',
  takeBack: 'Take sight back',
  takingBack: 'Taking sight back',

  accountHeading: 'Your account',
  password: 'Password',
  present: 'Present password',
  next: 'New password',
  nextHint: '12 characters or more. Every other session of yours ends with it.',
  changePassword: 'Change the password',
  changingPassword: 'Changing the password',
  changedPassword: 'The password is changed, and your other sessions have ended.',
  tokens: 'Tokens for machines',
  tokensSay:
    'With a token the command line, or a watched folder, acts in your name and with your rights. It cannot sign: your key stays with you.',
  noToken: 'No token yet',
  noTokenNext: 'Make one for the machine that sends files for you.',
  label: 'What it is for',
  labelHint: 'As “file desk, watched folder”.',
  days: 'Days that it is good for',
  daysHint: 'Empty: until you end it.',
  makeToken: 'Make a token',
  makingToken: 'Making a token',
  tokenMade: 'The token is made',
  tokenMadeSays: 'Copy it now: it is shown only this once, and only its hash is kept.',
  copyToken: 'Copy the token',
  made: 'Made',
  until: 'Good until',
  noEnd: 'ended by you',
  endToken: (label: string) => `End ${label}`,
  end: 'End',
  ending: 'Ending the token',
};
