import { useSuspenseQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Link } from 'wouter';
import type { TitleOnDesk } from '../call/answers.ts';
import { paths } from '../paths.ts';
import { Empty } from '../pieces/empty.tsx';
import { Page } from '../pieces/page.tsx';
import { useMay } from '../session/me.ts';
import { words } from '../words/index.ts';
import { deskQuery } from './queries.ts';
import { StageTag } from './stage.tsx';
import { Waiting } from './waiting.tsx';

const said = words.titles;

/** What waits comes first; then the titles, where each stands, and a way to find one. */
export default function HomeView() {
  const { data: titles } = useSuspenseQuery(deskQuery);
  const mayOpen = useMay('send-files');
  const newTitle = (
    <Link className={titles.length === 0 ? 'button firm' : 'button'} href={paths.newTitle}>
      {said.newTitle}
    </Link>
  );
  return (
    <Page title={said.heading} deeds={mayOpen && titles.length > 0 ? newTitle : undefined}>
      {titles.length === 0 ? (
        <Empty title={said.none}>
          <p>{mayOpen ? said.noneNext : said.noneWait}</p>
          {mayOpen && newTitle}
        </Empty>
      ) : (
        <div className="stack-wide">
          <Waiting titles={titles} />
          <TitleList titles={titles} />
        </div>
      )}
    </Page>
  );
}

function TitleList({ titles }: { readonly titles: readonly TitleOnDesk[] }) {
  const [text, setText] = useState('');
  const wanted = text.trim().toLocaleLowerCase();
  const found = titles.filter(({ name, publisher, printer }) =>
    [name, publisher.name, printer.name].some((one) => one.toLocaleLowerCase().includes(wanted)),
  );
  return (
    <section className="section" aria-labelledby="all-titles">
      <h2 id="all-titles">{said.all}</h2>
      <div className="row finder">
        <div className="field">
          <label htmlFor="find">{said.search}</label>
          <input
            id="find"
            type="search"
            value={text}
            aria-describedby="find-hint"
            onChange={(event) => setText(event.currentTarget.value)}
          />
        </div>
        <p className="soft small" id="find-hint">
          {said.searchHint}
        </p>
      </div>
      <p className="unseen" role="status">
        {wanted === '' ? '' : said.found(found.length)}
      </p>
      {found.length === 0 && <p>{said.notFound(text)}</p>}
      <ul className="shelf">
        {found.map((title) => (
          <li key={title.id} className="book-card leaf">
            <h3>
              <Link href={paths.title(title.id)}>{title.name}</Link>
            </h3>
            <p className="soft small">{said.between(title.publisher.name, title.printer.name)}</p>
            <ul className="card-parts">
              {title.parts.map((part) => (
                <li key={part.id}>
                  <Link href={paths.part(title.id, part.id)}>{part.name}</Link>
                  <StageTag stage={part.stage} open={part.open} />
                </li>
              ))}
              {title.parts.length === 0 && <li className="soft">{said.noPart}</li>}
            </ul>
          </li>
        ))}
      </ul>
    </section>
  );
}
