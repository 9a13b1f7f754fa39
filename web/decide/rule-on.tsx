import { useSuspenseQueries } from '@tanstack/react-query';
import { useState } from 'react';
import type { Account, Check, Decision } from '../../src/model/index.ts';
import type { SentFile } from '../call/answers.ts';
import { fileQuery } from '../files/queries.ts';
import { Button } from '../pieces/button.tsx';
import { SignSheet } from '../signing/sign-sheet.tsx';
import { words } from '../words/index.ts';
import { Meanwhile, wordsOn } from './meanwhile.tsx';
import { reportQuery, type FileFindings, type FoundFinding, type ReadReport } from './queries.ts';
import { useSide } from './use-side.ts';

const said = words.decide;
const DECISIONS: readonly Decision[] = ['agreed', 'to-be-put-right'];
const ACCOUNTS: readonly Account[] = ['authors-alteration', 'printers-error', 'shared', 'not-settled'];

interface RuleGiven {
  readonly titleId: string;
  readonly file: SentFile;
  readonly found: FileFindings;
  /** All of them are ruled on alike, in one statement. */
  readonly findings: readonly FoundFinding[];
  readonly onBack?: () => void;
  /** Once it is signed. */
  readonly onDone?: () => void;
}

/** One's side's word on findings: what is to become of them, on whose account, and the statement that says so. */
export function RuleOn({ titleId, file, found, findings, onBack, onDone }: RuleGiven) {
  const [{ data: dummy }, { data: report }] = useSuspenseQueries({
    queries: [fileQuery(titleId, found.dummy), reportQuery(titleId, found.report)],
  });
  const [decision, decide] = useState<Decision | null>(null);
  const [account, charge] = useState<Account | null>(null);
  const [seen, see] = useState(() => wordsOn(findings));
  const [taken, take] = useState<string | null>(null);
  const { side, names } = useSide(titleId);
  // Whoever chooses anew after signing does so knowing what stands there.
  const choosing = (): void => {
    if (taken === null) return;
    see(wordsOn(findings));
    take(null);
  };
  return (
    <div className="stack">
      {findings.length > 1 && (
        <ul className="sentences">
          {findings.map(({ id, finding }) => (
            <li key={id}>{finding.says}</li>
          ))}
        </ul>
      )}
      <div className="choices">
        <Choice
          legend={said.whatBecomes}
          name="decision"
          all={DECISIONS}
          chosen={decision}
          says={said.decisionsLong}
          onChoose={(one) => (choosing(), decide(one))}
        />
        <Choice
          legend={said.onWhoseAccount}
          name="account"
          all={ACCOUNTS}
          chosen={account}
          says={said.accountsLong}
          onChoose={(one) => (choosing(), charge(one))}
        />
      </div>
      <Meanwhile findings={findings} seen={seen} taken={taken} side={side} names={names} />
      {decision === null || account === null ? (
        <>
          <p className="soft">{said.chooseBoth}</p>
          {onBack && (
            <div className="row">
              <Button look="bare" onClick={onBack}>
                {words.signing.back}
              </Button>
            </div>
          )}
        </>
      ) : (
        <SignSheet
          deed={said.signRuling}
          wish={{
            titleId,
            kind: 'ruling',
            order: { report: found.report, findings: findings.map(({ id }) => id), decision, account },
            subject: {
              ...{ part: { id: file.part }, dummy: dummy.sha256, revision: file.sha256, report: report.sha256 },
              findings: findings.map(({ mark, finding }) => ({ id: mark, says: finding.says })),
              ...{ decision, account },
            },
            alsoCheck: () => [shownAsReported(findings, report)],
          }}
          onBack={onBack}
          onTaken={({ kept }) => take(kept.id)}
        />
      )}
      {taken !== null && onDone && (
        <div className="row">
          <Button onClick={onDone}>{said.toFindings}</Button>
        </div>
      )}
    </div>
  );
}

/** That the sentences on this page are those of the report whose hash is signed. */
function shownAsReported(findings: readonly FoundFinding[], { says }: ReadReport): Check {
  const other = findings.find(({ mark, finding }) => says.get(mark) !== finding.says);
  if (other === undefined) return { name: 'subject/report', outcome: 'holds' };
  const [expected, found] = [other.finding.says, says.get(other.mark) ?? ''];
  return { name: 'subject/report', outcome: 'fails', expected, found };
}

interface ChoiceGiven<T extends string> {
  readonly legend: string;
  readonly name: string;
  readonly all: readonly T[];
  readonly chosen: T | null;
  readonly says: Readonly<Record<T, readonly [string, string]>>;
  readonly onChoose: (one: T) => void;
}

function Choice<T extends string>({ legend, name, all, chosen, says, onChoose }: ChoiceGiven<T>) {
  return (
    <fieldset className="choice-set">
      <legend>{legend}</legend>
      {all.map((one) => (
        <label key={one} className="tick">
          <input type="radio" name={name} checked={one === chosen} onChange={() => onChoose(one)} />
          <span>
            <strong>{says[one][0]}</strong>
            <span className="soft small"> {says[one][1]}</span>
          </span>
        </label>
      ))}
    </fieldset>
  );
}
