import { figures } from './figures.ts';

/** Dummies signed off, and releases to plates. */
export const release = {
  signHeading: (part: string) => `Dummy: ${part}`,
  pages: (count: number) => figures.some(count, 'page', 'pages'),
  pagesInOrder: 'The pages in their order',
  page: (page: number) => `Page ${page}`,
  torn: (page: number) => `Page ${page} cannot be read`,
  tornTitle: 'A page cannot be read, so this dummy cannot be signed. Please have it sent again.',
  signed: 'Signed',
  notSigned: 'Not signed yet',
  signedAt: (moment: string, entry: number) => `${moment}, entry ${entry} of the log`,
  meaning: {
    sent: 'It becomes the contract when both sides have signed it: later files are held against it, page by page.',
    'half-signed': 'It becomes the contract when the other side has signed it, too.',
    'in-force': 'Later files are held against it, page by page.',
    replaced: 'Another dummy has taken its place.',
    withdrawn: 'It was taken back before both had signed it.',
  },
  signOff: 'Sign it off',
  signOffDeed: 'Sign this dummy',
  hasSigned: 'Your side has signed it.',
  replace: 'Replace the dummy in force',
  replaceSays:
    'Another dummy is in force. This one takes its place when both sides have signed that; until then the old one stays.',
  replaceDeed: 'Sign the replacement',
  withdraw: 'Take this dummy back',
  withdrawSays: 'As long as it is not in force, either side may take it back. It stays in the record.',
  withdrawDeed: 'Sign the withdrawal',
  reason: 'Why',
  reasonHint: 'It is signed with the rest.',
  goOn: 'Go on',
  releaseHeading: (part: string) => `Release to plates: ${part}`,
  inTheWay: 'What stands in the way',
  hindered: (count: number) =>
    `Not to be released yet: ${figures.some(count, 'finding is', 'findings are')} not agreed by both`,
  hinderedNext:
    'Rule on each, the same on both sides, or send a plates input in which it is put right. Each opens where it can be ruled on.',
  restsOn: 'What the release rests on',
  platesInput: 'Plates input',
  dummyInForce: 'Dummy in force',
  comparison: 'Comparison',
  compared: (findings: number, notes: number) =>
    findings === 0
      ? `Every page as in the dummy; ${figures.some(notes, 'note', 'notes')} for the record.`
      : `${figures.some(findings, 'difference', 'differences')}, all agreed by both; ${figures.some(notes, 'note', 'notes')} for the record.`,
  agreedByBoth: 'Differences that both agreed to',
  signatures: 'Signatures',
  released: 'Released to plates by both sides',
  releasedSays: 'The pass on press still decides: this says what is on the plates, not how it prints.',
  releaseDeed: 'Sign the release',
};
