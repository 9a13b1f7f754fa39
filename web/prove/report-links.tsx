import { useQueries } from '@tanstack/react-query';
import type { SentFile } from '../call/answers.ts';
import { checkingQuery } from '../files/queries.ts';
import { words } from '../words/index.ts';

const said = words.prove;

interface ReportsGiven {
  readonly titleId: string;
  /** Of a part. */
  readonly files: readonly SentFile[];
}

/** The report on each file that was compared, to be printed and filed. */
export function ReportLinks({ titleId, files }: ReportsGiven) {
  const later = files.filter(({ kind }) => kind !== 'dummy');
  const works = useQueries({ queries: later.map(({ id }) => checkingQuery(titleId, id)) });
  const compared = later.filter((_, index) => works[index]?.data?.comparing?.state === 'done');
  if (compared.length === 0) return null;
  return (
    <div className="stack">
      <h3>{said.reports}</h3>
      <ul className="row ways">
        {compared.map(({ id, kind, revisionNumber, name }) => (
          <li key={id}>
            <a href={`/api/files/${id}/report-pdf`} download>
              {said.reportOn(words.titles.fileKind(kind, revisionNumber), name)}
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}
