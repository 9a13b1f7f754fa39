import {
  checked,
  hexSha256,
  holds,
  readOr,
  unchecked,
  type EvidenceCheck,
  type Findings,
} from '../../../evidence/index.ts';
import { accountOf } from '../account/account.ts';
import { accountText } from '../account/account-text.ts';
import { drawAccount } from '../account/account-pdf.ts';
import { readPictures } from '../account/account-pictures.ts';
import { readmeOf } from '../readme.ts';
import { verifyScript } from '../verify-script.ts';

/** That account, README and script are what this program makes of the rest. */
export async function checkAccount(findings: Findings): Promise<readonly EvidenceCheck[]> {
  const { facts, found, entries, statements } = findings;
  const checks: EvidenceCheck[] = [];
  const isScript = found.get('verify.sh') === hexSha256(verifyScript());
  if (isScript) checks.push(holds('verify.sh', 'script'));
  else checks.push(unchecked('verify.sh', 'script', 'it is not the script of this edition of the program'));
  if (facts === null) return [...checks, unchecked('account.txt', 'account-as-told', 'pack.json cannot be read')];
  const says = new Map(facts.entries.flatMap((index) => entriesAt(entries, index)));
  const account = accountOf({ facts, entries: says, statements });
  let isTold = true;
  const made = [
    ['account.txt', accountText(account)],
    ['README.txt', readmeOf(facts)],
  ] as const;
  for (const [name, text] of made) {
    const isSo = found.get(name) === hexSha256(new TextEncoder().encode(text));
    isTold &&= isSo;
    const otherwise = { expected: 'the words that follow from pack.json, the log and the statements', found: 'others' };
    checks.push(checked(name, 'account-as-told', isSo, otherwise));
  }
  if (!isTold) return [...checks, unchecked('account.pdf', 'account-as-told', 'account.txt does not hold')];
  const read = await readOr('account.pdf', 'account-as-told', async () =>
    drawAccount(account, new Date(facts.madeAt), await readPictures(account, (member) => findings.pack.read(member))),
  );
  if ('fault' in read) return [...checks, read.fault];
  const isSheet = found.get('account.pdf') === hexSha256(read.value);
  const why = 'it is not set as this edition of the program sets it; account.txt says the same';
  checks.push(isSheet ? holds('account.pdf', 'account-as-told') : unchecked('account.pdf', 'account-as-told', why));
  return checks;
}

function entriesAt(entries: Findings['entries'], index: number): [number, ProvedSays][] {
  const entry = entries.get(index);
  return entry === undefined ? [] : [[index, entry.says]];
}

type ProvedSays = NonNullable<ReturnType<Findings['entries']['get']>>['says'];
