import { useSuspenseQueries } from '@tanstack/react-query';
import { useState } from 'react';
import { Link } from 'wouter';
import { paths } from '../paths.ts';
import { Button } from '../pieces/button.tsx';
import { Empty } from '../pieces/empty.tsx';
import { Tag } from '../pieces/notice.tsx';
import { Page } from '../pieces/page.tsx';
import { useMay, useMe } from '../session/me.ts';
import { deskQuery } from '../titles/queries.ts';
import { words } from '../words/index.ts';
import { Fingerprint } from './fingerprint.tsx';
import { Introduce } from './introduce.tsx';
import { MakeKey } from './make-key.tsx';
import { OpenKey } from './open-key.tsx';
import { putKeyAway, useOwnKey } from './own-key.ts';
import { certificatesQuery, type Certificate } from './queries.ts';

const said = words.keys;

/** One's own key: made, opened, made known; and what to do when it is lost. */
export default function KeysView() {
  const me = useMe();
  const own = useOwnKey();
  const maySign = useMay('sign');
  const [{ data: all }, { data: titles }] = useSuspenseQueries({ queries: [certificatesQuery, deskQuery] });
  const mine = all.filter(({ person }) => person === me.person.id);
  const [shown, show] = useState<'make' | 'open' | null>(maySign && mine.length === 0 ? 'make' : null);
  const isKnown = own !== null && all.some(({ id }) => id === own.id);
  return (
    <Page title={said.heading}>
      <div className="stack-wide">
        <div className="stack">
          <p>{said.lead}</p>
          {own !== null && (
            <div className="leaf stack">
              <div className="row">
                <Tag tone="well">{said.isOpen}</Tag>
                <Button onClick={putKeyAway}>{said.putAway}</Button>
              </div>
              <Fingerprint value={own.fingerprint} />
              {!isKnown && shown !== 'make' && <Introduce own={own} isReady />}
            </div>
          )}
        </div>
        <section className="section" aria-labelledby="mine">
          <h2 id="mine">{said.mine}</h2>
          {mine.length === 0 && (
            <Empty title={said.none}>
              <p>{maySign ? said.noneNext : said.noneMay}</p>
            </Empty>
          )}
          <ul className="stack">
            {mine.map((one) => (
              <li key={one.id}>
                <OwnCertificate certificate={one} />
              </li>
            ))}
          </ul>
          {titles.length > 0 && mine.length > 0 && (
            <div className="stack">
              <p>{said.onTitles}</p>
              <ul className="row ways">
                {titles.map(({ id, name }) => (
                  <li key={id}>
                    <Link href={paths.titleKeys(id)}>{name}</Link>
                  </li>
                ))}
              </ul>
            </div>
          )}
        </section>
        {maySign && (
          <section className="section" aria-labelledby="key-work">
            <h2 id="key-work">{shown === 'open' ? said.openHeading : said.makeHeading}</h2>
            <div className="row">
              <Button aria-pressed={shown === 'make'} onClick={() => show('make')}>
                {said.makeHeading}
              </Button>
              <Button aria-pressed={shown === 'open'} onClick={() => show('open')}>
                {said.openHeading}
              </Button>
            </div>
            {shown === 'make' && <MakeKey />}
            {shown === 'open' && own === null && <OpenKey />}
          </section>
        )}
        <section className="section" aria-labelledby="lost">
          <h2 id="lost">{said.lostHeading}</h2>
          <p>{said.lostSays}</p>
          <ol className="sentences">
            {said.lostSteps.map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ol>
          <p>{said.lostAfter}</p>
        </section>
      </div>
    </Page>
  );
}

function OwnCertificate({
  certificate: { fingerprint, introduced, revokedFrom },
}: {
  readonly certificate: Certificate;
}) {
  return (
    <article className="leaf stack">
      <Fingerprint value={fingerprint} />
      <div className="row">
        <span className="soft small">{said.since(words.figures.moment(introduced))}</span>
        {revokedFrom !== null && <Tag tone="stop">{said.revokedFrom(words.figures.moment(revokedFrom))}</Tag>}
      </div>
    </article>
  );
}
