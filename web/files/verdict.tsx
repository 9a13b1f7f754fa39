import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { Checking, SentFile, Weight } from '../call/answers.ts';
import { paths } from '../paths.ts';
import { Notice, Tag } from '../pieces/notice.tsx';
import { sheetsQuery } from '../sheets/queries.ts';
import { words } from '../words/index.ts';
import { verdictQuery } from './queries.ts';

const said = words.files;
const WEIGHTS: readonly Weight[] = ['stop', 'look', 'note'];
/** The first few sentences are enough to see what is the matter. */
const SHOWN = 5;

interface VerdictGiven {
  readonly titleId: string;
  readonly file: SentFile;
  readonly checking: Checking;
}

/** What came of a file, in a sentence and its first findings, and the ways on from there. */
export function Verdict({ titleId, file, checking }: VerdictGiven) {
  if (file.kind === 'dummy') {
    return checking.reading?.state === 'done' ? <Ways titleId={titleId} file={file} /> : null;
  }
  return checking.comparing?.state === 'done' ? <Compared titleId={titleId} file={file} /> : null;
}

function Compared({ titleId, file }: Omit<VerdictGiven, 'checking'>) {
  const { data } = useQuery(verdictQuery(titleId, file.id));
  if (data === undefined) return null;
  const { verdict, items } = data;
  if (verdict === 'match') {
    return (
      <div className="stack">
        <Notice tone="well" title={said.match}>
          <p>{said.matchSays}</p>
        </Notice>
        <Ways titleId={titleId} file={file} />
      </div>
    );
  }
  const first = items.filter(({ weight }) => weight !== 'note').slice(0, SHOWN);
  return (
    <div className="stack">
      <Notice tone={items.some(({ weight }) => weight === 'stop') ? 'stop' : 'look'} title={said.differs(items.length)}>
        <div className="row">
          {WEIGHTS.map((weight) => ({ weight, count: items.filter((one) => one.weight === weight).length }))
            .filter(({ count }) => count > 0)
            .map(({ weight, count }) => (
              <Tag key={weight} tone={weight}>
                {said.counts(weight, count)}
              </Tag>
            ))}
        </div>
        <ul className="sentences">
          {first.map(({ id, finding }) => (
            <li key={id}>
              <span className="soft">{said.onPage(finding.dummyPage, finding.revisionPage)}:</span>{' '}
              <Link href={paths.finding(titleId, file.id, id)}>{finding.says}</Link>
            </li>
          ))}
        </ul>
      </Notice>
      <Ways titleId={titleId} file={file} />
    </div>
  );
}

function Ways({ titleId, file: { id, kind } }: Omit<VerdictGiven, 'checking'>) {
  return (
    <div className="row">
      <Link className="button firm" href={paths.book(titleId, id)}>
        {said.toBook}
      </Link>
      {kind !== 'dummy' && (
        <Link className="button" href={paths.findings(titleId, id)}>
          {said.toFindings}
        </Link>
      )}
      {kind === 'dummy' && (
        <Link className="button" href={paths.sign(titleId, id)}>
          {said.toSign}
        </Link>
      )}
      {kind === 'plates-input' && <ToSheets titleId={titleId} fileId={id} />}
      {kind === 'plates-input' && (
        <Link className="button" href={paths.release(titleId, id)}>
          {said.toRelease}
        </Link>
      )}
    </div>
  );
}

function ToSheets({ titleId, fileId }: { readonly titleId: string; readonly fileId: string }) {
  const { data: sheets } = useQuery(sheetsQuery(titleId, fileId));
  if (sheets == null) return null;
  return (
    <Link className="button" href={paths.sheets(titleId, fileId)}>
      {words.sheets.toSheets}
    </Link>
  );
}
