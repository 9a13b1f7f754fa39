import { useSuspenseQueries } from '@tanstack/react-query';
import { useTitleNews } from '../live/follow-title.ts';
import { paths } from '../paths.ts';
import { Notice } from '../pieces/notice.tsx';
import { Page } from '../pieces/page.tsx';
import { titleQuery } from '../titles/queries.ts';
import type { ViewGiven } from '../view.ts';
import { words } from '../words/index.ts';
import { FileWork } from './file-work.tsx';
import { FirstFindings } from './first-findings.tsx';
import { checkingQuery, fileQuery } from './queries.ts';
import { Verdict } from './verdict.tsx';

const said = words.files;

/** A file: what is done with it as it happens, what came of it, and what can be done next. */
export default function FileView({ params: { titleId = '', fileId = '' } }: ViewGiven) {
  const [{ data: title }, { data: file }, { data: checking }] = useSuspenseQueries({
    queries: [titleQuery(titleId), fileQuery(titleId, fileId), checkingQuery(titleId, fileId)],
  });
  const isLive = useTitleNews(titleId);
  const part = title.value.parts.find(({ id }) => id === file.part);
  const above = [
    { to: paths.home, name: words.titles.heading },
    { to: paths.title(titleId), name: title.value.name },
    { to: paths.part(titleId, file.part), name: part?.name ?? '' },
  ];
  return (
    <Page title={words.titles.fileKind(file.kind, file.revisionNumber)} above={above}>
      <div className="stack-wide">
        {!isLive && <Notice tone="look" title={said.lineGone} isNews />}
        <Verdict titleId={titleId} file={file} checking={checking} />
        {checking.comparing?.state !== 'done' && <FirstFindings fileId={fileId} />}
        <div className="side-by-side">
          <FileWork titleId={titleId} file={file} checking={checking} />
          <section className="section" aria-labelledby="facts">
            <h2 id="facts">{file.name}</h2>
            <dl className="facts">
              <dt>{said.sender}</dt>
              <dd>{said.by(file.sender.name, words.figures.moment(file.at))}</dd>
              {file.replaces !== null && (
                <>
                  <dt>{words.sending.pages}</dt>
                  <dd>{said.replaces(file.replaces.pages)}</dd>
                </>
              )}
              {file.kind === 'plates-input' && (
                <>
                  <dt>{words.sheets.folding}</dt>
                  <dd>{words.sheets.foldingOf(file.folding)}</dd>
                </>
              )}
              <dt>{said.remark}</dt>
              <dd>{file.remark === '' ? '–' : file.remark}</dd>
              <dt>{said.hash}</dt>
              <dd>
                <code>{file.sha256}</code>
              </dd>
            </dl>
            <p>
              <a href={`/api/files/${fileId}/content`} download={file.name}>
                {said.download}
              </a>
            </p>
          </section>
        </div>
      </div>
    </Page>
  );
}
