import type { Check } from '../../src/model/index.ts';
import { Tag, type Tone } from '../pieces/notice.tsx';
import { Table } from '../pieces/table.tsx';
import { words } from '../words/index.ts';

const said = words.signing;
const TONES: Readonly<Record<Check['outcome'], Tone>> = { holds: 'well', fails: 'stop', 'not-checked': 'look' };

/** A check, and what it is about. */
export interface ShownCheck {
  readonly about: string;
  readonly check: Check;
}

/** Every check with what came of it: holds, does not hold, not checked and why. */
export function CheckTable({ checks }: { readonly checks: readonly ShownCheck[] }) {
  return (
    <Table name={said.checkHeading} heads={said.checkHeads} isStacked>
      {checks.map(({ about, check }, at) => (
        <tr key={`${at} ${about}`}>
          <th scope="row">{about}</th>
          <td>
            <Tag tone={TONES[check.outcome]}>{said.outcomes[check.outcome]}</Tag>
          </td>
          <td className="told">{told(check)}</td>
        </tr>
      ))}
    </Table>
  );
}

function told(check: Check): string {
  if (check.outcome === 'holds') return '';
  if (check.outcome === 'not-checked') return check.why;
  return said.otherwise(short(check.expected), short(check.found));
}

/** Of a list of hundreds of hashes the beginning is enough to see that it is another. */
function short(text: string): string {
  return text.length > 300 ? `${text.slice(0, 300)} …` : text;
}
