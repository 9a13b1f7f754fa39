import { useSuspenseQueries } from '@tanstack/react-query';
import { useState } from 'react';
import { Link } from 'wouter';
import type { Part } from '../call/answers.ts';
import { filesQuery, partStateQuery } from '../files/queries.ts';
import { useTitleNews } from '../live/follow-title.ts';
import { paths } from '../paths.ts';
import { Empty } from '../pieces/empty.tsx';
import { Field } from '../pieces/field.tsx';
import { Guarded } from '../pieces/guarded.tsx';
import { Page } from '../pieces/page.tsx';
import { titleQuery } from '../titles/queries.ts';
import type { ViewGiven } from '../view.ts';
import { words } from '../words/index.ts';
import { AccountTable } from './account-table.tsx';
import { PageHistory } from './page-history.tsx';
import { accountsQuery } from './queries.ts';
import { ReportLinks } from './report-links.tsx';

const said = words.prove;

/** What can be proved of a title: packs and copies, the accounts, and each page's way from dummy to plates. */
export default function EvidenceView({ params: { titleId = '' } }: ViewGiven) {
  const [{ data: heard }, { data: accounts }] = useSuspenseQueries({
    queries: [titleQuery(titleId), accountsQuery(titleId)],
  });
  useTitleNews(titleId);
  const { name, parts } = heard.value;
  const pack = `/api/titles/${titleId}/evidence`;
  return (
    <Page
      title={said.heading}
      above={[
        { to: paths.home, name: words.titles.heading },
        { to: paths.title(titleId), name },
      ]}
    >
      <div className="stack-wide">
        <section className="section" aria-labelledby="pack">
          <h2 id="pack">{said.packHeading}</h2>
          <p>{said.packSays}</p>
          <div className="row">
            <a className="button firm" href={pack} download>
              {said.wholePack}
            </a>
            <a className="button" href={`${pack}?contents=hashes`} download>
              {said.lightPack}
            </a>
            <Link href={paths.verify}>{said.toVerify}</Link>
          </div>
        </section>
        {parts.map((part) => (
          <Guarded key={part.id}>
            <PartEvidence titleId={titleId} part={part} />
          </Guarded>
        ))}
        <section className="section" aria-labelledby="accounts">
          <h2 id="accounts">{said.accounts}</h2>
          {accounts.lines.length === 0 ? (
            <Empty title={said.noAccount}>
              <p>{said.noAccountNext}</p>
            </Empty>
          ) : (
            <AccountTable titleId={titleId} accounts={accounts} parts={parts} />
          )}
        </section>
      </div>
    </Page>
  );
}

function PartEvidence({ titleId, part }: { readonly titleId: string; readonly part: Part }) {
  const [{ data: files }, { data: state }] = useSuspenseQueries({
    queries: [filesQuery(titleId, part.id), partStateQuery(titleId, part.id)],
  });
  const [page, turn] = useState(1);
  const dummy = files.find(({ id }) => id === state.inForce);
  return (
    <section className="section" aria-labelledby={`part-${part.id}`}>
      <h2 id={`part-${part.id}`}>{part.name}</h2>
      {dummy === undefined ? (
        <Empty title={said.noDummy}>
          <p>
            {said.noDummyNext} <Link href={paths.part(titleId, part.id)}>{part.name}</Link>
          </p>
        </Empty>
      ) : (
        <>
          <div className="row">
            <a className="button" href={`/api/files/${dummy.id}/signed-copy`} download>
              {said.signedCopy}
            </a>
            <a className="button" href={`/api/files/${dummy.id}/print-copy`} download>
              {said.printCopy}
            </a>
            <a className="button" href={`/api/titles/${titleId}/evidence?part=${part.id}&page=${page}`} download>
              {said.pagePack(page)}
            </a>
          </div>
          <p className="soft small">{said.copiesSay}</p>
          <ReportLinks titleId={titleId} files={files} />
          <Field label={said.pageOf} hint={said.pageOfHint}>
            {(ids) => (
              <input
                {...ids}
                type="number"
                inputMode="numeric"
                min={1}
                value={page}
                onChange={(event) => turn(Math.max(1, Math.floor(event.currentTarget.valueAsNumber) || 1))}
              />
            )}
          </Field>
          <Guarded key={page}>
            <PageHistory titleId={titleId} dummyId={dummy.id} page={page} files={files} />
          </Guarded>
        </>
      )}
    </section>
  );
}
