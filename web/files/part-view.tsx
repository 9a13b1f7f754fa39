import { useSuspenseQueries } from '@tanstack/react-query';
import { useState } from 'react';
import type { FileKind } from '../call/answers.ts';
import { useTitleNews } from '../live/follow-title.ts';
import { paths } from '../paths.ts';
import { Empty } from '../pieces/empty.tsx';
import { Notice } from '../pieces/notice.tsx';
import { Page } from '../pieces/page.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { DropArea } from '../send/drop-area.tsx';
import { isOfPlates, withPlatesTogether } from '../send/pack-plates.ts';
import { SendingList } from '../send/sending-list.tsx';
import { Tray } from '../send/tray.tsx';
import { attachAgain } from '../send/sendings.ts';
import { useMay } from '../session/me.ts';
import { titleQuery } from '../titles/queries.ts';
import type { ViewGiven } from '../view.ts';
import { words } from '../words/index.ts';
import { FileRow } from './file-row.tsx';
import { filesQuery, partStateQuery } from './queries.ts';

const said = words.files;

/** A part of a title: what is on its way, and its files, the newest first. Files are dropped anywhere on it. */
export default function PartView({ params: { titleId = '', partId = '' } }: ViewGiven) {
  const [{ data: title }, { data: files }, { data: state }] = useSuspenseQueries({
    queries: [titleQuery(titleId), filesQuery(titleId, partId), partStateQuery(titleId, partId)],
  });
  const isLive = useTitleNews(titleId);
  const [chosen, choose] = useState<readonly File[]>([]);
  const [putting, setPutting] = useState(0);
  const [unread, setUnread] = useState<unknown>(null);
  const maySend = useMay('send-files') && title.value.standing !== 'sight';
  const part = title.value.parts.find(({ id }) => id === partId);
  const likely: FileKind = files.some(({ kind }) => kind === 'dummy') ? 'revision' : 'dummy';
  // A file that was begun before goes on where it stopped; only others are asked about.
  const take = (found: readonly File[]) => {
    const several = found.filter(isOfPlates).length > 1 ? 1 : 0;
    setPutting((before) => before + several);
    void withPlatesTogether(found)
      .then(
        (together) => choose((before) => [...before, ...together.filter((file) => !attachAgain(partId, file))]),
        (error: unknown) => setUnread(error),
      )
      .finally(() => setPutting((before) => before - several));
  };
  return (
    <Page
      title={part?.name ?? ''}
      above={[
        { to: paths.home, name: words.titles.heading },
        { to: paths.title(titleId), name: title.value.name },
      ]}
    >
      <div className="stack-wide">
        {!isLive && <Notice tone="look" title={said.lineGone} isNews />}
        {maySend && <DropArea isEmpty={files.length === 0 && chosen.length === 0} onFiles={take} />}
        {putting > 0 && <p role="status">{words.sending.puttingTogether}</p>}
        {unread !== null && <TroubleNotice error={unread} doing={words.sending.readingPlates} />}
        {chosen.length > 0 && (
          <Tray titleId={titleId} partId={partId} likely={likely} files={chosen} onChange={choose} />
        )}
        <SendingList titleId={titleId} partId={partId} />
        <section className="section" aria-labelledby="files">
          <h2 id="files">{said.heading}</h2>
          {files.length === 0 && (
            <Empty title={said.none}>
              <p>{maySend ? said.noneNext : said.noneWait}</p>
            </Empty>
          )}
          <ul className="stack">
            {files.toReversed().map((file) => (
              <li key={file.id}>
                <FileRow titleId={titleId} file={file} state={state} />
              </li>
            ))}
          </ul>
        </section>
      </div>
    </Page>
  );
}
