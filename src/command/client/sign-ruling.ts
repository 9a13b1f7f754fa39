import { Refusal, type Check, type Statement } from '../../model/index.ts';
import { textOf, type ClientCommand, type Given } from './client-command.ts';
import { FILE_OPTION, findFile } from './find-file.ts';
import { findingsOfFile, type ListedFinding } from './listed-findings.ts';
import { findPart, PART_OPTION, TITLE_OPTION } from './find-part.ts';
import { signAndSend, SIGNING_OPTIONS } from './sign-and-send.ts';

const ACCOUNTS = ['authors-alteration', 'printers-error', 'shared', 'not-settled'] as const;

/** `ruling`: one statement on one or many findings of a file's newest report. */
export const signRuling: ClientCommand = {
  words: 'ruling',
  operands: [],
  says: 'rules on findings of a file, one or many at once: agreed, or to be put right',
  options: {
    title: TITLE_OPTION,
    part: PART_OPTION,
    file: FILE_OPTION,
    findings: { takes: 'F1,F2', says: 'their numbers in the report, or `all` that stop or want a look', needed: true },
    agreed: { takes: null, says: 'the revision may stay as it is there' },
    'put-right': { takes: null, says: 'it may not go to plates as it is there' },
    account: { takes: 'WHOSE', says: `${ACCOUNTS.join(', ')}; not-settled where nothing is said` },
    ...SIGNING_OPTIONS,
  },
  run: (given, tools) =>
    signAndSend(given, tools, async (client) => {
      const decision = decisionOf(given);
      const account = accountOf(given);
      const { title, part } = await findPart(client, given);
      const file = await findFile(client, { given, partId: part.id });
      const { report, items } = await findingsOfFile(client, file.id);
      const findings = findingsNamed(items, textOf(given, 'findings'));
      const shown = findings.map(({ mark, finding }) => ({ id: mark, says: finding.says }));
      return {
        title,
        kind: 'ruling',
        order: { report, findings: findings.map(({ id }) => id), decision, account },
        subject: { part: { id: part.id, name: part.name }, revision: file.sha256, decision, account },
        alsoCheck: (statement) => [findingsCheck(statement, shown)],
      };
    }),
};

interface Shown {
  readonly id: string;
  readonly says: string;
}

/** That exactly the findings that were named are ruled on, in the words that were shown; their order says nothing. */
function findingsCheck({ kind, subject }: Statement, shown: readonly Shown[]): Check {
  const [expected, found] = [told(shown), told(kind === 'ruling' ? subject.findings : [])];
  const name = 'subject/findings';
  return expected === found ? { name, outcome: 'holds' } : { name, outcome: 'fails', expected, found };
}

function told(findings: readonly Shown[]): string {
  const lines = findings.map(({ id, says }) => `${id} ${says}`);
  return lines.toSorted().join('; ');
}

function findingsNamed(all: readonly ListedFinding[], named: string): readonly ListedFinding[] {
  const wanted =
    named === 'all'
      ? all.filter(({ weight }) => weight !== 'note')
      : named.split(',').map((name) => find(all, name.trim()));
  if (wanted.length === 0) throw new Refusal('not-found', { what: 'findings that stop or want a look' });
  return wanted;
}

function find(all: readonly ListedFinding[], name: string): ListedFinding {
  const found = all.find(({ id, mark }) => id === name || mark === name);
  if (found === undefined) throw new Refusal('not-found', { what: `finding ${name}` });
  return found;
}

function decisionOf(given: Given): 'agreed' | 'to-be-put-right' {
  const [agreed, putRight] = [given.isSet('agreed'), given.isSet('put-right')];
  if (agreed !== putRight) return agreed ? 'agreed' : 'to-be-put-right';
  throw new Refusal('malformed', {
    pointer: 'ruling',
    expected: '--agreed or --put-right',
    found: agreed ? 'both' : 'neither',
  });
}

function accountOf(given: Given): (typeof ACCOUNTS)[number] {
  const named = given.text('account') ?? 'not-settled';
  const account = ACCOUNTS.find((one) => one === named);
  if (account !== undefined) return account;
  throw new Refusal('malformed', { pointer: '--account', expected: ACCOUNTS.join(', '), found: named });
}
