import { useSuspenseQueries } from '@tanstack/react-query';
import { useState } from 'react';
import { Link } from 'wouter';
import { useTitleNews } from '../live/follow-title.ts';
import { paths } from '../paths.ts';
import { Button } from '../pieces/button.tsx';
import { Empty } from '../pieces/empty.tsx';
import { Field } from '../pieces/field.tsx';
import { Notice, Tag } from '../pieces/notice.tsx';
import { Page } from '../pieces/page.tsx';
import { useMay, useMe } from '../session/me.ts';
import { SignSheet } from '../signing/sign-sheet.tsx';
import { titleQuery } from '../titles/queries.ts';
import type { ViewGiven } from '../view.ts';
import { words } from '../words/index.ts';
import { Fingerprint } from './fingerprint.tsx';
import { CERTIFICATE_TONES } from './states.ts';
import { titleCertificatesQuery, type CertificateOfSide } from './queries.ts';

const said = words.keys;

/** The keys of both sides of a title: what is read over the telephone, confirmed, and given up. */
export default function TitleKeysView({ params: { titleId = '' } }: ViewGiven) {
  const me = useMe();
  const [{ data: heard }, { data: all }] = useSuspenseQueries({
    queries: [titleQuery(titleId), titleCertificatesQuery(titleId)],
  });
  useTitleNews(titleId);
  const title = heard.value;
  const maySign = useMay('sign') && title.standing !== 'sight';
  const sides = [title.publisher, title.printer];
  return (
    <Page
      title={said.titleHeading}
      above={[
        { to: paths.home, name: words.titles.heading },
        { to: paths.title(titleId), name: title.name },
      ]}
    >
      <div className="stack-wide">
        <p>{said.titleLead}</p>
        {sides.map((party) => (
          <section className="section" key={party.id} aria-labelledby={`side-${party.id}`}>
            <h2 id={`side-${party.id}`}>{party.name}</h2>
            {!all.some((one) => one.party === party.id) && (
              <Empty title={said.noneOfSide}>
                <p>{party.id === me.party.id ? <Link href={paths.keys}>{said.noneOwn}</Link> : said.noneOther}</p>
              </Empty>
            )}
            <ul className="stack">
              {all
                .filter((one) => one.party === party.id)
                .map((one) => (
                  <li key={one.id}>
                    <SideCertificate
                      titleId={titleId}
                      certificate={one}
                      isOwn={party.id === me.party.id}
                      maySign={maySign}
                    />
                  </li>
                ))}
            </ul>
          </section>
        ))}
      </div>
    </Page>
  );
}

interface SideGiven {
  readonly titleId: string;
  readonly certificate: CertificateOfSide;
  readonly isOwn: boolean;
  readonly maySign: boolean;
}

function SideCertificate({ titleId, certificate, isOwn, maySign }: SideGiven) {
  const [shown, show] = useState<'confirm' | 'revoke' | null>(null);
  const { name, organisation, fingerprint, introduced, revokedFrom, state } = certificate;
  const mayConfirm = maySign && !isOwn && state === 'introduced';
  return (
    <article className="leaf stack">
      <div className="row">
        <h3>{name}</h3>
        <Tag tone={CERTIFICATE_TONES[state]}>{said.states[state]}</Tag>
      </div>
      <Fingerprint value={fingerprint} />
      <p className="soft small">
        {organisation}. {said.since(words.figures.moment(introduced))}
        {revokedFrom !== null && ` ${said.revokedFrom(words.figures.moment(revokedFrom))}.`}
      </p>
      {state === 'awaiting' && <p>{isOwn ? said.awaitsYou : said.awaitsThem}</p>}
      {isOwn && state === 'introduced' && <p>{said.readOwn}</p>}
      {shown === null && (
        <div className="row">
          {mayConfirm && (
            <Button look="firm" onClick={() => show('confirm')}>
              {said.confirm}
            </Button>
          )}
          {maySign && isOwn && state !== 'revoked' && <Button onClick={() => show('revoke')}>{said.revoke}</Button>}
        </div>
      )}
      {shown === 'confirm' && <Confirm titleId={titleId} certificate={certificate} />}
      {shown === 'revoke' && <Revoke titleId={titleId} certificate={certificate} />}
    </article>
  );
}

function Confirm({ titleId, certificate }: Pick<SideGiven, 'titleId' | 'certificate'>) {
  const [isSame, setSame] = useState(false);
  const { id, fingerprint, name, organisation } = certificate;
  return (
    <div className="stack">
      <p>{said.confirmSays(name)}</p>
      <label className="tick">
        <input type="checkbox" checked={isSame} onChange={(event) => setSame(event.currentTarget.checked)} />
        {said.isSame(name)}
      </label>
      {isSame && (
        <SignSheet
          wish={{
            titleId,
            kind: 'key-confirmation',
            order: { certificate: id },
            subject: { sha256: id, fingerprint, name, organisation },
          }}
          deed={said.confirmSign}
        />
      )}
    </div>
  );
}

function Revoke({ titleId, certificate: { id, fingerprint } }: Pick<SideGiven, 'titleId' | 'certificate'>) {
  const [reason, write] = useState('');
  const [isWritten, setWritten] = useState(false);
  return (
    <div className="stack">
      <Notice tone="look" title={said.revokeTitle}>
        <p>{said.revokeSays}</p>
      </Notice>
      <Field label={said.reason} hint={said.reasonHint}>
        {(ids) => (
          <input
            {...ids}
            maxLength={1000}
            value={reason}
            disabled={isWritten}
            onChange={(event) => write(event.currentTarget.value)}
          />
        )}
      </Field>
      {!isWritten && (
        <div className="row">
          <Button look="firm" disabled={reason.trim() === ''} onClick={() => setWritten(true)}>
            {words.signing.read}
          </Button>
        </div>
      )}
      {isWritten && (
        <SignSheet
          wish={{
            titleId,
            kind: 'revocation',
            order: { certificate: id, reason: reason.trim() },
            subject: { sha256: id, fingerprint, reason: reason.trim() },
          }}
          deed={said.revokeSign}
          onBack={() => setWritten(false)}
        />
      )}
    </div>
  );
}
