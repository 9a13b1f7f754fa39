import { Table } from '../pieces/table.tsx';
import { words } from '../words/index.ts';
import type { Line, Names } from './queries.ts';
import { whoOf } from './record-words.ts';

const said = words.archive;

/** The lines of a record, in the order of the log. */
export function RecordTable({ lines, names }: { readonly lines: readonly Line[]; readonly names: Names }) {
  return (
    <Table name={said.record} heads={[said.number, said.when, said.what, said.who, said.details]} isStacked>
      {lines.map(({ index, leafHash, entry, says }) => (
        <tr key={index}>
          <td className="figures">{index}</td>
          <td className="moment">
            <time dateTime={entry.at}>{words.figures.moment(entry.at)}</time>
          </td>
          <th scope="row">{said.entryKinds[entry.kind]}</th>
          <td>{whoOf(entry.by, names)}</td>
          <td>
            {entry.remark !== '' && <p>{entry.remark}</p>}
            {says.map((sentence) => (
              <p key={sentence}>{sentence}</p>
            ))}
            <details>
              <summary>{said.subjects}</summary>
              <dl className="facts small">
                {entry.subjects.map(({ what, id, sha256 }) => (
                  <div key={`${what} ${id}`} className="fact">
                    <dt>{what}</dt>
                    <dd>{names.get(id) ?? <code>{sha256 ?? id}</code>}</dd>
                  </div>
                ))}
                <div className="fact">
                  <dt>{said.leafHash}</dt>
                  <dd>
                    <code>{leafHash}</code>
                  </dd>
                </div>
              </dl>
            </details>
          </td>
        </tr>
      ))}
    </Table>
  );
}
