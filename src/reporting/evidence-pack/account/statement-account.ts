import { ALL_INKS } from '../../../model/index.ts';
import type { Account, Decision, ReleasedSide, Statement, StatementKind, StatementOf } from '../../../model/index.ts';
import { formatCount } from '../../words/figures.ts';
import type { PackFacts } from '../../../evidence/index.ts';
import { momentWords, namedFile } from './names.ts';

/** On whose account, as a ruling has it. */
export const ACCOUNT_WORDS: Readonly<Record<Account, string>> = {
  'authors-alteration': 'author’s alteration',
  'printers-error': 'printer’s error',
  shared: 'shared account',
  'not-settled': 'account not settled',
};

/** What is to become of a finding. */
export const DECISION_WORDS: Readonly<Record<Decision, string>> = {
  agreed: 'agreed',
  'to-be-put-right': 'to be put right',
};

type Tell = { readonly [K in StatementKind]: (statement: StatementOf<K>, facts: PackFacts) => string };

const TELL: Tell = {
  'key-confirmation': ({ subject }) =>
    `confirmed the key ${subject.fingerprint} of ${subject.name}, who signs for ${subject.organisation}`,
  'sign-off': ({ subject }, facts) =>
    `signed ${namedFile(facts, subject.dummy.sha256)} as the dummy of ${subject.part.name}, ${formatCount(subject.dummy.pages.length, 'page')}`,
  ruling: ({ subject }, facts) => {
    const ids = subject.findings.map(({ id }) => id).join(', ');
    const about = `${formatCount(subject.findings.length, 'finding')} (${ids}) in ${namedFile(facts, subject.revision)}`;
    return `ruled on ${about}: ${DECISION_WORDS[subject.decision]}, ${ACCOUNT_WORDS[subject.account]}`;
  },
  release: ({ subject }, facts) =>
    `released ${namedFile(facts, subject.platesInput.sha256)} to plates${sheetsWords(subject.sheets)}, resting on ${formatCount(subject.rulings.length, 'ruling')}`,
  revocation: ({ subject }) =>
    `revoked the key ${subject.fingerprint} from ${momentWords(subject.from)} on: ${subject.reason}`,
  withdrawal: ({ subject }, facts) => `took back ${namedFile(facts, subject.dummy)}: ${subject.reason}`,
  replacement: ({ subject }, facts) =>
    `agreed that ${namedFile(facts, subject.inForce)} gives way to ${namedFile(facts, subject.dummy.sha256)}: ${subject.reason}`,
};

/** How many sides were released, and in how many plates where they are not pages with every ink. */
function sheetsWords(sheets: readonly ReleasedSide[] = []): string {
  const plates = sheets.flatMap((side) => side.plates).filter(({ ink }) => ink !== ALL_INKS);
  if (sheets.length === 0) return '';
  const sides = formatCount(sheets.length, 'side');
  return plates.length === 0
    ? `, ${sides} of sheets`
    : `, ${sides} of sheets in ${formatCount(plates.length, 'plate')}`;
}

/** What somebody stated, told of them: “signed the dummy … as …”. */
export function tellStatement(statement: Statement, facts: PackFacts): string {
  return tell(statement, facts);
}

function tell<K extends StatementKind>(statement: StatementOf<K>, facts: PackFacts): string {
  return TELL[statement.kind](statement, facts);
}
