import { useSuspenseQueries } from '@tanstack/react-query';
import { useState, type ReactNode } from 'react';
import type { SentFile } from '../call/answers.ts';
import { pagesQuery, type BookPage } from '../book/queries.ts';
import { FilePage } from '../decide/file-page.tsx';
import { useSide } from '../decide/use-side.ts';
import { fileQuery, partStateQuery } from '../files/queries.ts';
import { useTitleNews } from '../live/follow-title.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { Notice } from '../pieces/notice.tsx';
import { SignSheet } from '../signing/sign-sheet.tsx';
import type { ViewGiven } from '../view.ts';
import { words } from '../words/index.ts';
import { PageStrip } from './page-strip.tsx';
import { hashesOf } from './page-hashes.ts';
import { Signatures } from './signatures.tsx';

const said = words.release;

/** A dummy: signed off as the contract, withdrawn, or brought in for the one in force. */
export default function SignView({ params: { titleId = '', fileId = '' } }: ViewGiven) {
  const [{ data: file }, { data: pages }] = useSuspenseQueries({
    queries: [fileQuery(titleId, fileId), pagesQuery(titleId, fileId)],
  });
  const [{ data: state }] = useSuspenseQueries({ queries: [partStateQuery(titleId, file.part)] });
  useTitleNews(titleId);
  const { side, maySign, names, partName } = useSide(titleId);
  const dummy = state.dummies.find((one) => one.file === fileId);
  const standing = dummy?.standing ?? 'sent';
  const hasSigned = dummy?.signatures.some(({ party }) => party === side) === true;
  const isTorn = pages.some(({ unreadable }) => unreadable !== null);
  const isReplacing = state.inForce !== null && state.inForce !== fileId;
  const isOpen = standing === 'sent' || standing === 'half-signed';
  // What was begun on this page stays on it, since it shows what came of it.
  const [begun] = useState({ isOpen, isReplacing });
  const mayAct = maySign && !isTorn && (isOpen || begun.isOpen);
  return (
    <FilePage titleId={titleId} fileId={fileId} title={said.signHeading(partName(file.part))}>
      <div className="stack-wide">
        <div className="stack">
          <p>
            <strong className="file-name">{file.name}</strong>, {said.pages(pages.length)}
          </p>
          <PageStrip titleId={titleId} fileId={fileId} pages={pages} />
          <Notice tone={standing === 'in-force' ? 'well' : 'note'} title={words.files.dummyStandings[standing]}>
            <p>{said.meaning[standing]}</p>
          </Notice>
          <Signatures signatures={dummy?.signatures ?? []} names={names} />
          {isTorn && <Notice tone="stop" title={said.tornTitle} />}
        </div>
        {mayAct && !begun.isReplacing && (
          <section className="section" aria-labelledby="sign-off">
            <h2 id="sign-off">{said.signOff}</h2>
            <SignOff titleId={titleId} file={file} pages={pages} hasSigned={hasSigned} />
          </section>
        )}
        {mayAct && begun.isReplacing && <Replace titleId={titleId} file={file} pages={pages} />}
        {maySign && (isOpen || begun.isOpen) && standing !== 'in-force' && <Withdraw titleId={titleId} file={file} />}
      </div>
    </FilePage>
  );
}

interface DummyGiven {
  readonly titleId: string;
  readonly file: SentFile;
  readonly pages: readonly BookPage[];
}

function SignOff({ titleId, file, pages, hasSigned }: DummyGiven & { readonly hasSigned: boolean }) {
  const [before] = useState(hasSigned);
  if (before) return <p>{said.hasSigned}</p>;
  return (
    <SignSheet
      deed={said.signOffDeed}
      wish={{
        titleId,
        kind: 'sign-off',
        order: { file: file.id },
        subject: { part: { id: file.part }, dummy: { sha256: file.sha256, pages: hashesOf(pages) } },
      }}
    />
  );
}

function Replace({ titleId, file, pages }: DummyGiven) {
  return (
    <section className="section" aria-labelledby="replace">
      <h2 id="replace">{said.replace}</h2>
      <p>{said.replaceSays}</p>
      <ForReason>
        {(reason, back) => (
          <SignSheet
            deed={said.replaceDeed}
            onBack={back}
            wish={{
              titleId,
              kind: 'replacement',
              order: { file: file.id, reason },
              subject: { part: { id: file.part }, dummy: { sha256: file.sha256, pages: hashesOf(pages) }, reason },
            }}
          />
        )}
      </ForReason>
    </section>
  );
}

function Withdraw({ titleId, file }: Omit<DummyGiven, 'pages'>) {
  return (
    <details className="section">
      <summary>{said.withdraw}</summary>
      <div className="stack">
        <p>{said.withdrawSays}</p>
        <ForReason>
          {(reason, back) => (
            <SignSheet
              deed={said.withdrawDeed}
              onBack={back}
              wish={{
                titleId,
                kind: 'withdrawal',
                order: { file: file.id, reason },
                subject: { part: { id: file.part }, dummy: file.sha256, reason },
              }}
            />
          )}
        </ForReason>
      </div>
    </details>
  );
}

/** A reason is written before the statement that has it is drafted. */
function ForReason({ children }: { readonly children: (reason: string, back: () => void) => ReactNode }) {
  const [reason, write] = useState('');
  const [isWritten, setWritten] = useState(false);
  if (isWritten) return children(reason.trim(), () => setWritten(false));
  return (
    <form
      className="stack"
      onSubmit={(event) => {
        event.preventDefault();
        if (reason.trim() !== '') setWritten(true);
      }}
    >
      <Field label={said.reason} hint={said.reasonHint}>
        {(ids) => (
          <input
            {...ids}
            required
            maxLength={1000}
            value={reason}
            onChange={(event) => write(event.currentTarget.value)}
          />
        )}
      </Field>
      <div className="row">
        <Button type="submit">{said.goOn}</Button>
      </div>
    </form>
  );
}
