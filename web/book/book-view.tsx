import { useSuspenseQueries, useSuspenseQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import { fileQuery } from '../files/queries.ts';
import { useTitleNews } from '../live/follow-title.ts';
import { paths } from '../paths.ts';
import { Page } from '../pieces/page.tsx';
import { titleQuery } from '../titles/queries.ts';
import type { ViewGiven } from '../view.ts';
import { words } from '../words/index.ts';
import { marksOfPages } from './marks-of-pages.ts';
import { movedPages } from './moved-pages.ts';
import { OpenBook } from './open-book.tsx';
import type { ShownBook } from './open-book.tsx';
import { comparedQuery, pagesQuery } from './queries.ts';
import type { Compared } from './queries.ts';
import { WeightSign } from './weight-sign.tsx';

const said = words.book;

/** All pages of a file as spreads, against those of its dummy. */
export default function BookView({ params: { titleId = '', fileId = '' } }: ViewGiven) {
  const [{ data: title }, { data: file }, { data: pages }, { data: compared }] = useSuspenseQueries({
    queries: [
      titleQuery(titleId),
      fileQuery(titleId, fileId),
      pagesQuery(titleId, fileId),
      comparedQuery(titleId, fileId),
    ],
  });
  useTitleNews(titleId);
  const above = [
    { to: paths.title(titleId), name: title.value.name },
    { to: paths.file(titleId, fileId), name: words.titles.fileKind(file.kind, file.revisionNumber) },
  ];
  const own: ShownBook = { of: compared === null ? 'dummy' : 'revision', pages };
  return (
    <Page
      title={said.heading}
      above={above}
      deeds={<Link href={paths.findings(titleId, fileId)}>{said.toFindings}</Link>}
    >
      {compared === null ? (
        <OpenBook
          titleId={titleId}
          fileId={fileId}
          books={[own]}
          marks={marksOfPages(null)}
          moved={[]}
          shownAs={(page) => page}
        />
      ) : (
        <AgainstDummy titleId={titleId} fileId={fileId} own={own} compared={compared} />
      )}
    </Page>
  );
}

interface AgainstGiven {
  readonly titleId: string;
  readonly fileId: string;
  readonly own: ShownBook;
  readonly compared: Compared;
}

function AgainstDummy({ titleId, fileId, own, compared }: AgainstGiven) {
  const { data: pages } = useSuspenseQuery(pagesQuery(titleId, compared.dummy));
  const moved = movedPages(compared);
  const marks = marksOfPages(compared);
  const shownAs = new Map(compared.pairs.map(({ dummyPage, revisionPage }) => [dummyPage, revisionPage]));
  return (
    <>
      <p className="book-key">
        {(['stop', 'look', 'note'] as const).map((weight) => (
          <span key={weight} className={`page-mark ${weight}`}>
            <WeightSign weight={weight} /> {words.files.weights[weight]}
          </span>
        ))}
        {moved.length > 0 && <span>{said.movedKey(moved.length)}</span>}
      </p>
      {moved.length > 0 && (
        <ul className="unseen">
          {moved.map(({ dummyPage, revisionPage }) => (
            <li key={`${dummyPage}/${revisionPage}`}>{said.moved(dummyPage, revisionPage)}</li>
          ))}
        </ul>
      )}
      <div className="book-heads" aria-hidden="true">
        <span>{said.dummy}</span>
        <span>{said.revision}</span>
      </div>
      <OpenBook
        titleId={titleId}
        fileId={fileId}
        books={[{ of: 'dummy', pages }, own]}
        marks={marks}
        moved={moved}
        shownAs={(page) => shownAs.get(page) ?? null}
      />
    </>
  );
}
