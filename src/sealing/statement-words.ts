import { ALL_INKS } from '../model/index.ts';
import type {
  Account,
  Named,
  Party,
  ReleasedSide,
  SignedFile,
  Statement,
  StatementKind,
  StatementOf,
} from '../model/index.ts';

/** Kinds as people name them. */
const STATEMENT_NAMES: Readonly<Record<StatementKind, string>> = {
  'key-confirmation': 'Confirmation of a key',
  'sign-off': 'Sign-off of a dummy',
  ruling: 'Ruling on findings',
  release: 'Release to plates',
  revocation: 'Revocation of a key',
  withdrawal: 'Withdrawal of a dummy',
  replacement: 'Replacement of a dummy',
};

const ACCOUNTS: Readonly<Record<Account, string>> = {
  'authors-alteration': 'The difference is an author’s alteration, on the publisher’s account.',
  'printers-error': 'The difference is a printer’s error, on the printer’s account.',
  shared: 'Both sides share the account of it.',
  'not-settled': 'On whose account it goes is not settled by this.',
};

const SEVERAL: Readonly<Record<Account, string>> = {
  'authors-alteration': 'The differences are author’s alterations, on the publisher’s account.',
  'printers-error': 'The differences are printer’s errors, on the printer’s account.',
  shared: 'Both sides share the account of them.',
  'not-settled': 'On whose account they go is not settled by this.',
};

const PARTIES: Readonly<Record<Party, string>> = { publisher: 'the publisher', printer: 'the printer' };

type Says = { readonly [K in StatementKind]: (statement: StatementOf<K>) => readonly string[] };

const SAYS: Says = {
  'key-confirmation': ({ subject }) => [
    `I confirm that the key with the fingerprint ${subject.fingerprint} is that of ${subject.name}, who signs for ${subject.organisation}, ${PARTIES[subject.party]}.`,
    'I have compared the fingerprint with that person by another way than this service.',
    `The certificate’s SHA-256 is ${subject.sha256}.`,
  ],
  'sign-off': ({ subject }) => [
    `I take this file as the signed dummy of the part ${named(subject.part)}: ${file(subject.dummy)}`,
    'Once both parties have signed it, later files of the part are held against it, page by page.',
  ],
  ruling: ({ subject }) => {
    const { findings, decision, account } = subject;
    const [what, is] =
      findings.length === 1 ? ['this finding', 'It is'] : [`these ${findings.length} findings`, 'They are'];
    return [
      `I rule on ${what} in the part ${named(subject.part)}:`,
      ...findings.map(({ id, says }) => `- ${id}: ${says}`),
      decision === 'agreed'
        ? `${is} agreed: the revision may stay as it is there.`
        : `${is} to be put right: the revision may not go to plates as it is there.`,
      findings.length === 1 ? ACCOUNTS[account] : SEVERAL[account],
      `The report’s SHA-256 is ${subject.report}, the revision’s ${subject.revision}, the dummy’s ${subject.dummy}.`,
    ];
  },
  release: ({ subject }) => [
    `I release this plates input of the part ${named(subject.part)} to be made into plates: ${platesInput(subject)}`,
    ...(subject.sheets ?? []).map(side),
    `It was compared with the dummy of SHA-256 ${subject.dummy}, in the report of SHA-256 ${subject.report}.`,
    subject.rulings.length === 0
      ? 'It rests on no ruling.'
      : `It rests on ${counted(subject.rulings.length, 'ruling')}, of SHA-256 ${subject.rulings.join(', ')}.`,
    'The release is in force once both parties have signed it.',
  ],
  revocation: ({ subject }) => [
    `From ${moment(subject.from)} on, nothing that is signed with the key of the fingerprint ${subject.fingerprint} is mine.`,
    'What was signed with it and received before stays valid.',
    `The reason is: ${subject.reason}`,
    `The certificate’s SHA-256 is ${subject.sha256}.`,
  ],
  withdrawal: ({ subject }) => [
    `I take back the dummy of the part ${named(subject.part)} that is not yet in force. Its SHA-256 is ${subject.dummy}.`,
    `The reason is: ${subject.reason}`,
  ],
  replacement: ({ subject }) => [
    `I agree that the dummy in force of the part ${named(subject.part)}, of SHA-256 ${subject.inForce}, gives way to a new one: ${file(subject.dummy)}`,
    `The reason is: ${subject.reason}`,
    'The new dummy is in force once both parties have signed this; until then the old one is.',
  ],
};

/**
 * What somebody signs, in full sentences, one a line: who, on which title, what, and on which state of the log.
 * Everything in the statement that has a meaning is said; only the pages' own hashes are counted and not listed.
 */
export function sayStatement(statement: Statement): readonly string[] {
  const { signer, title, head } = statement;
  return [
    `${STATEMENT_NAMES[statement.kind]}, for the title ${named(title)}.`,
    `I am ${signer.name} and sign for ${signer.organisation}, ${PARTIES[signer.party]}.`,
    ...subjectLines(statement),
    `I sign on ${moment(statement.at)}, when the log ${head.origin} had ${counted(head.size, 'entry', 'entries')} and the root ${head.root}.`,
    `This statement has the number ${statement.id}; my certificate’s SHA-256 is ${signer.certificate}.`,
  ];
}

function subjectLines<K extends StatementKind>(statement: StatementOf<K>): readonly string[] {
  return SAYS[statement.kind](statement);
}

function file({ sha256, bytes, pages }: SignedFile, one = 'page'): string {
  return `${counted(pages.length, one)} in ${counted(bytes, 'byte')}, of SHA-256 ${sha256}, each ${one} by its own content.`;
}

/** Where the file is one plate for each ink, its pages are these. */
function platesInput({ platesInput: input, sheets = [] }: StatementOf<'release'>['subject']): string {
  const isPlates = sheets.some(({ plates }) => plates.some(({ ink }) => ink !== ALL_INKS));
  return isPlates ? file(input, 'plate') : file(input);
}

function side({ sheet, side: which, plates }: ReleasedSide): string {
  const inks = plates.map(({ ink, sha256 }) => (ink === ALL_INKS ? `all inks, ${sha256}` : `${ink}, ${sha256}`));
  return `- Sheet ${sheet}${which === 'both' ? '' : `, ${which}`}: ${inks.join('; ')}`;
}

function named({ id, name }: Named): string {
  return `“${name}” (${id})`;
}

function moment(at: string): string {
  return `${at.slice(0, 10)} at ${at.slice(11, 19)} UTC`;
}

function counted(count: number, one: string, more = `${one}s`): string {
  return `${count} ${count === 1 ? one : more}`;
}
