import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { PartState, SentFile } from '../call/answers.ts';
import { paths } from '../paths.ts';
import { Tag } from '../pieces/notice.tsx';
import type { Tone } from '../pieces/notice.tsx';
import { words } from '../words/index.ts';
import { JobLine } from './job-line.tsx';
import { checkingQuery, firstFindingsQuery } from './queries.ts';

const said = words.files;

interface RowGiven {
  readonly titleId: string;
  readonly file: SentFile;
  readonly state: PartState;
}

const TONES: Readonly<Record<PartState['dummies'][number]['standing'], Tone | undefined>> = {
  sent: 'look',
  'half-signed': 'look',
  'in-force': 'well',
  replaced: undefined,
  withdrawn: undefined,
};

/** A file in the list of its part: what it is, who sent it, how it stands, and how far the work on it is. */
export function FileRow({ titleId, file, state }: RowGiven) {
  const { data: checking } = useQuery(checkingQuery(titleId, file.id));
  const { data: firstFindings = [] } = useQuery(firstFindingsQuery(file.id));
  const dummy = state.dummies.find((one) => one.file === file.id);
  const release = state.releases.findLast((one) => one.file === file.id && one.onDummyInForce);
  const atWork = [checking?.reading, checking?.comparing].find((job) => job != null && job.state !== 'done');
  return (
    <article className="leaf file-row">
      <div className="row">
        <h3>
          <Link href={paths.file(titleId, file.id)}>{words.titles.fileKind(file.kind, file.revisionNumber)}</Link>
        </h3>
        <span className="file-name soft">{file.name}</span>
        {dummy && !(dummy.standing === 'sent' && checking?.reading?.state === 'failed') && (
          <StandingTag standing={dummy.standing} />
        )}
        {release && (
          <Tag tone={release.inForce ? 'well' : 'look'}>
            {words.titles.stage(release.inForce ? 'released' : 'release-to-sign', 0)}
          </Tag>
        )}
        {firstFindings.length > 0 && checking?.comparing?.state !== 'done' && (
          <Tag tone="look">{said.soFar(firstFindings.length)}</Tag>
        )}
      </div>
      <p className="soft small">
        {said.by(file.sender.name, words.figures.moment(file.at))}
        {file.replaces !== null && ` · ${said.replaces(file.replaces.pages)}`}
      </p>
      {file.remark !== '' && <p>{file.remark}</p>}
      {atWork && <JobLine name={atWork === checking?.reading ? said.reading : said.comparing} job={atWork} />}
    </article>
  );
}

function StandingTag({ standing }: { readonly standing: PartState['dummies'][number]['standing'] }) {
  const tone = TONES[standing];
  return <Tag {...(tone === undefined ? {} : { tone })}>{said.dummyStandings[standing]}</Tag>;
}
