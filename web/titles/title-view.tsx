import { useSuspenseQueries } from '@tanstack/react-query';
import { useState } from 'react';
import { Link } from 'wouter';
import { useTitleNews } from '../live/follow-title.ts';
import { paths } from '../paths.ts';
import { Button } from '../pieces/button.tsx';
import { Empty } from '../pieces/empty.tsx';
import { Page } from '../pieces/page.tsx';
import { useMay } from '../session/me.ts';
import type { ViewGiven } from '../view.ts';
import { words } from '../words/index.ts';
import { NewPart } from './new-part.tsx';
import { deskQuery, titleQuery } from './queries.ts';
import { RenameTitle } from './rename-title.tsx';
import { StageTag } from './stage.tsx';
import { Waiting } from './waiting.tsx';

const said = words.titles;

/** A title: what waits in it, its parts and where they stand, and the ways to its people, keys and record. */
export default function TitleView({ params: { titleId = '' } }: ViewGiven) {
  const [{ data: heard }, { data: desk }] = useSuspenseQueries({ queries: [titleQuery(titleId), deskQuery] });
  useTitleNews(titleId);
  const [shown, show] = useState<'part' | 'name' | null>(null);
  const title = heard.value;
  const onDesk = desk.filter(({ id }) => id === titleId);
  const mayAct = useMay('send-files') && title.standing !== 'sight';
  return (
    <Page
      title={title.name}
      above={[{ to: paths.home, name: said.heading }]}
      deeds={mayAct && <Button onClick={() => show('name')}>{said.rename}</Button>}
    >
      <div className="stack-wide">
        <div className="stack">
          <p className="soft">{said.between(title.publisher.name, title.printer.name)}</p>
          {title.formerNames.length > 0 && (
            <p className="soft small">
              {said.formerNames}: {title.formerNames.join('; ')}
            </p>
          )}
          <TitleWays titleId={titleId} />
        </div>
        {onDesk.some(({ parts }) => parts.some(({ waits }) => waits.length > 0)) && <Waiting titles={onDesk} />}
        <section className="section" aria-labelledby="parts">
          <h2 id="parts">{said.parts}</h2>
          {title.parts.length === 0 && (
            <Empty title={said.noPart}>
              <p>{said.noPartNext}</p>
            </Empty>
          )}
          <ul className="shelf">
            {title.parts.map((part) => {
              const stands = onDesk[0]?.parts.find(({ id }) => id === part.id);
              return (
                <li key={part.id} className="book-card leaf">
                  <h3>
                    <Link href={paths.part(titleId, part.id)}>{part.name}</Link>
                  </h3>
                  {stands && <StageTag stage={stands.stage} open={stands.open} />}
                </li>
              );
            })}
          </ul>
          {mayAct && (
            <div className="row">
              <Button look={title.parts.length === 0 ? 'firm' : 'plain'} onClick={() => show('part')}>
                {said.newPart}
              </Button>
            </div>
          )}
        </section>
      </div>
      {shown === 'part' && <NewPart titleId={titleId} onClose={() => show(null)} />}
      {shown === 'name' && <RenameTitle title={title} etag={heard.etag} onClose={() => show(null)} />}
    </Page>
  );
}

function TitleWays({ titleId }: { readonly titleId: string }) {
  const ways = [
    [paths.sight(titleId), said.sight],
    [paths.titleKeys(titleId), said.keys],
    [paths.record(titleId), said.record],
    [paths.evidence(titleId), said.evidence],
  ] as const;
  return (
    <ul className="row ways">
      {ways.map(([to, name]) => (
        <li key={to}>
          <Link href={to}>{name}</Link>
        </li>
      ))}
    </ul>
  );
}
