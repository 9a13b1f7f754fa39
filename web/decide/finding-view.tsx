import { useSuspenseQueries } from '@tanstack/react-query';
import { Link } from 'wouter';
import { Trouble } from '../call/trouble.ts';
import { fileQuery, filesQuery } from '../files/queries.ts';
import { useTitleNews } from '../live/follow-title.ts';
import { paths } from '../paths.ts';
import { Tag } from '../pieces/notice.tsx';
import type { ViewGiven } from '../view.ts';
import { words } from '../words/index.ts';
import { BothWords, RulingTag } from './both-words.tsx';
import { Conversation } from './conversation.tsx';
import { Exhibits } from './exhibits.tsx';
import { FilePage } from './file-page.tsx';
import { FindingHistory } from './finding-history.tsx';
import { findingsQuery } from './queries.ts';
import { nextWaiting } from './filter.ts';
import { RuleOn } from './rule-on.tsx';
import { useSide } from './use-side.ts';

const said = words.decide;

/** One finding: what it shows, where it came from, what both say of it, what is said about it, and one's own word. */
export default function FindingView({ params: { titleId = '', fileId = '', findingId = '' } }: ViewGiven) {
  const [{ data: file }, { data: found }] = useSuspenseQueries({
    queries: [fileQuery(titleId, fileId), findingsQuery(titleId, fileId)],
  });
  const [{ data: files }] = useSuspenseQueries({ queries: [filesQuery(titleId, file.part)] });
  useTitleNews(titleId);
  const { side, maySign, names } = useSide(titleId);
  const one = found.items.find(({ id }) => id === findingId);
  if (one === undefined) throw new Trouble('not-found', said.notHere);
  const { finding, mark, weight, ruling } = one;
  const next = nextWaiting(found.items, one, side);
  const page = finding.revisionPage ?? finding.dummyPage;
  const above = [{ to: paths.findings(titleId, fileId), name: said.heading }];
  return (
    <FilePage titleId={titleId} fileId={fileId} title={finding.says} above={above}>
      <div className="stack-wide one-finding">
        <div className="stack">
          <div className="row">
            <Tag tone={weight}>{words.files.weights[weight]}</Tag>
            <RulingTag state={ruling.state} />
            <span className="soft">{said.page(finding.dummyPage ?? page)}</span>
            {page !== null && <Link href={paths.look(titleId, fileId, page)}>{said.lookClosely}</Link>}
          </div>
          <Exhibits titleId={titleId} reportId={found.report} mark={mark} size="large" />
        </div>
        <section className="section" aria-labelledby="both">
          <h2 id="both">{said.bothSay}</h2>
          <BothWords ruling={ruling} names={names} />
        </section>
        <section className="section" aria-labelledby="talk">
          <h2 id="talk">{said.talk}</h2>
          <Conversation titleId={titleId} findingId={findingId} />
        </section>
        {maySign && (
          <section className="section" aria-labelledby="rule">
            <h2 id="rule">{said.yourWord}</h2>
            <RuleOn key={one.id} titleId={titleId} file={file} found={found} findings={[one]} />
            <p>
              {next === undefined ? (
                <span className="soft">{said.noneWaiting}</span>
              ) : (
                <Link className="button" href={paths.finding(titleId, fileId, next.id)}>
                  {said.nextWaiting}
                </Link>
              )}
            </p>
          </section>
        )}
        <section className="section" aria-labelledby="history">
          <h2 id="history">{said.history}</h2>
          <FindingHistory titleId={titleId} one={one} files={files} />
        </section>
      </div>
    </FilePage>
  );
}
