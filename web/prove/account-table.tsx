import { Link } from 'wouter';
import type { Account } from '../../src/model/index.ts';
import type { Part } from '../call/answers.ts';
import { paths } from '../paths.ts';
import { Table } from '../pieces/table.tsx';
import { words } from '../words/index.ts';
import type { Accounts } from './queries.ts';

const said = words.prove;
const ORDER: readonly Account[] = ['authors-alteration', 'printers-error', 'shared', 'not-settled'];

interface TableGiven {
  readonly titleId: string;
  readonly accounts: Accounts;
  readonly parts: readonly Part[];
}

/** Settled findings, each on its account, and how many there are of each. */
export function AccountTable({ titleId, accounts: { lines, total }, parts }: TableGiven) {
  return (
    <div className="stack">
      <dl className="facts">
        {ORDER.map((account) => (
          <div className="fact" key={account}>
            <dt>{words.decide.accounts[account]}</dt>
            <dd>{words.figures.count(total[account])}</dd>
          </div>
        ))}
      </dl>
      <Table name={said.accounts} heads={said.accountHeads}>
        {lines.map(({ finding, file, part, says, account }) => (
          <tr key={`${file} ${finding}`}>
            <td>{words.decide.accounts[account]}</td>
            <td>
              <Link href={paths.finding(titleId, file, finding)}>{says}</Link>
            </td>
            <td>{parts.find(({ id }) => id === part)?.name ?? ''}</td>
          </tr>
        ))}
      </Table>
      <p>
        <a href={`/api/titles/${titleId}/accounts.csv`} download>
          {said.asTable}
        </a>
      </p>
    </div>
  );
}
