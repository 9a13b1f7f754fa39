import { useMutation, useQueryClient, useSuspenseQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { Token } from '../call/answers.ts';
import { call } from '../call/call.ts';
import { Button } from '../pieces/button.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { Empty } from '../pieces/empty.tsx';
import { Field } from '../pieces/field.tsx';
import { textIn } from '../pieces/form-values.ts';
import { Notice } from '../pieces/notice.tsx';
import { SecretField } from '../pieces/secret-field.tsx';
import { Table } from '../pieces/table.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { words } from '../words/index.ts';
import { tokensQuery } from './queries.ts';

const said = words.people;

/** Tokens for machines that act in one's name. */
export function Tokens() {
  const { data: tokens } = useSuspenseQuery(tokensQuery);
  const queries = useQueryClient();
  const [isMaking, setMaking] = useState(false);
  const ending = useMutation({
    mutationFn: (id: string) => call('DELETE', `/api/tokens/${id}`),
    onSettled: () => queries.invalidateQueries({ queryKey: ['tokens'] }),
  });
  return (
    <section className="section" aria-labelledby="tokens">
      <h2 id="tokens">{said.tokens}</h2>
      <p className="soft">{said.tokensSay}</p>
      {tokens.length === 0 ? (
        <Empty title={said.noToken}>
          <p>{said.noTokenNext}</p>
        </Empty>
      ) : (
        <Table name={said.tokens} heads={[said.label, said.made, said.until, said.end]}>
          {tokens.map(({ id, label, made, until }) => (
            <tr key={id}>
              <th scope="row">{label}</th>
              <td>{words.figures.moment(made)}</td>
              <td>{until === null ? said.noEnd : words.figures.moment(until)}</td>
              <td>
                <Button
                  look="bare"
                  aria-label={said.endToken(label)}
                  isBusy={ending.isPending}
                  onClick={() => ending.mutate(id)}
                >
                  {said.end}
                </Button>
              </td>
            </tr>
          ))}
        </Table>
      )}
      {ending.error && <TroubleNotice error={ending.error} doing={said.ending} />}
      <div className="row">
        <Button onClick={() => setMaking(true)}>{said.makeToken}</Button>
      </div>
      {isMaking && <MakeToken onClose={() => setMaking(false)} />}
    </section>
  );
}

function MakeToken({ onClose }: { readonly onClose: () => void }) {
  const queries = useQueryClient();
  const making = useMutation({
    mutationFn: async (form: FormData) => {
      const days = textIn(form, 'days');
      const body = { label: textIn(form, 'label'), days: days === '' ? null : Number(days) };
      return (await call<Token & { readonly secret: string }>('POST', '/api/tokens', { body })).value;
    },
    onSuccess: () => queries.invalidateQueries({ queryKey: ['tokens'] }),
  });
  return (
    <Dialog title={said.makeToken} onClose={onClose}>
      {making.data ? (
        <Notice tone="well" title={said.tokenMade} isNews>
          <p>{said.tokenMadeSays}</p>
          <SecretField label={making.data.label} value={making.data.secret} copy={said.copyToken} />
        </Notice>
      ) : (
        <form
          className="stack"
          onSubmit={(event) => {
            event.preventDefault();
            making.mutate(new FormData(event.currentTarget));
          }}
        >
          <Field label={said.label} hint={said.labelHint}>
            {(ids) => <input {...ids} name="label" required maxLength={200} />}
          </Field>
          <Field label={said.days} hint={said.daysHint}>
            {(ids) => <input {...ids} name="days" type="number" min={1} max={3660} inputMode="numeric" />}
          </Field>
          {making.error && <TroubleNotice error={making.error} doing={said.makingToken} />}
          <div className="row">
            <Button type="submit" look="firm" isBusy={making.isPending}>
              {said.makeToken}
            </Button>
          </div>
        </form>
      )}
    </Dialog>
  );
}
