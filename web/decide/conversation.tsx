import { useMutation, useQueryClient, useSuspenseQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { call } from '../call/call.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { useMay } from '../session/me.ts';
import { words } from '../words/index.ts';
import { remarksQuery, type Remark } from './queries.ts';
import { useSide } from './use-side.ts';

const said = words.decide;
const MOST_CHARACTERS = 4000;

/** What was said about a finding, and a place to say more. What is being written stays through a reload of the page. */
export function Conversation({ titleId, findingId }: { readonly titleId: string; readonly findingId: string }) {
  const { data: remarks } = useSuspenseQuery(remarksQuery(titleId, findingId));
  const { side } = useSide(titleId);
  const mayWrite = useMay('send-files') && side !== null;
  return (
    <div className="stack">
      {remarks.length === 0 && <p className="soft">{mayWrite ? said.noRemark : said.noRemarkYet}</p>}
      <ol className="talk">
        {remarks.map(({ logIndex, text, by, at }) => (
          <li key={logIndex}>
            <p className="small soft">{words.files.by(by.name, words.figures.moment(at))}</p>
            <p className="remark">{text}</p>
          </li>
        ))}
      </ol>
      {mayWrite && <Say titleId={titleId} findingId={findingId} />}
    </div>
  );
}

function Say({ titleId, findingId }: { readonly titleId: string; readonly findingId: string }) {
  const queries = useQueryClient();
  const place = `remark on ${findingId}`;
  const [text, setText] = useState(() => sessionStorage.getItem(place) ?? '');
  const write = (now: string): void => {
    setText(now);
    sessionStorage.setItem(place, now);
  };
  const saying = useMutation({
    mutationFn: () => call<Remark>('POST', `/api/findings/${findingId}/remarks`, { body: { text } }),
    onSuccess: () => {
      setText('');
      sessionStorage.removeItem(place);
      return queries.invalidateQueries({ queryKey: ['title', titleId] });
    },
  });
  return (
    <form
      className="stack"
      onSubmit={(event) => {
        event.preventDefault();
        saying.mutate();
      }}
    >
      <Field label={said.remark} hint={said.remarkHint}>
        {(ids) => (
          <textarea
            {...ids}
            rows={3}
            required
            maxLength={MOST_CHARACTERS}
            value={text}
            onChange={(event) => write(event.currentTarget.value)}
          />
        )}
      </Field>
      {saying.error && <TroubleNotice error={saying.error} doing={said.saying} />}
      <div className="row">
        <Button type="submit" isBusy={saying.isPending}>
          {said.say}
        </Button>
      </div>
    </form>
  );
}
