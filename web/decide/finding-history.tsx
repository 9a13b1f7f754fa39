import { Link } from 'wouter';
import type { SentFile } from '../call/answers.ts';
import { paths } from '../paths.ts';
import { words } from '../words/index.ts';
import type { FoundFinding } from './queries.ts';

const said = words.decide;

interface HistoryGiven {
  readonly titleId: string;
  readonly one: FoundFinding;
  /** Of the part. */
  readonly files: readonly SentFile[];
}

/** Which file brought a finding, who sent it, when and with what remark, and how it stands in every later one. */
export function FindingHistory({ titleId, one, files }: HistoryGiven) {
  return (
    <ol className="talk">
      {one.states.map(({ file: fileId, state }) => {
        const file = files.find(({ id }) => id === fileId);
        if (file === undefined) return null;
        return (
          <li key={fileId}>
            <p>
              <Link href={paths.file(titleId, fileId)}>{words.titles.fileKind(file.kind, file.revisionNumber)}</Link>{' '}
              <span className="file-name">{file.name}</span>:{' '}
              {fileId === one.firstFile ? said.brought : said.inFile[state]}
            </p>
            <p className="small soft">{words.files.by(file.sender.name, words.figures.moment(file.at))}</p>
            {file.remark !== '' && <p className="remark">{file.remark}</p>}
          </li>
        );
      })}
    </ol>
  );
}
