import { useMutation, useQueryClient, useSuspenseQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { WholeTitle } from '../call/answers.ts';
import { call } from '../call/call.ts';
import { paths } from '../paths.ts';
import { Button } from '../pieces/button.tsx';
import { Empty } from '../pieces/empty.tsx';
import { Field } from '../pieces/field.tsx';
import { textIn } from '../pieces/form-values.ts';
import { Page } from '../pieces/page.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { useMe } from '../session/me.ts';
import { words } from '../words/index.ts';
import { partiesQuery } from './queries.ts';

const said = words.titles;
const SIDES = ['publisher', 'printer'] as const;

/** Opens a title between one's own party and another. */
export default function NewTitleView() {
  const { party } = useMe();
  const { data: parties } = useSuspenseQuery(partiesQuery);
  const others = parties.filter(({ id }) => id !== party.id);
  return (
    <Page title={said.newTitle} above={[{ to: paths.home, name: said.heading }]}>
      {others.length === 0 ? (
        <Empty title={said.noOther}>
          <p>{said.noOtherNext}</p>
          <Link className="button firm" href={paths.people}>
            {said.bringIn}
          </Link>
        </Empty>
      ) : (
        <TitleForm partyId={party.id} others={others} />
      )}
    </Page>
  );
}

interface TitleFormGiven {
  readonly partyId: string;
  readonly others: readonly { readonly id: string; readonly name: string }[];
}

function TitleForm({ partyId, others }: TitleFormGiven) {
  const queries = useQueryClient();
  const [, go] = useLocation();
  const [side, setSide] = useState<(typeof SIDES)[number]>('publisher');
  const otherSide = side === 'publisher' ? 'printer' : 'publisher';
  const opening = useMutation({
    mutationFn: async (form: FormData) => {
      const body = { name: textIn(form, 'name'), [side]: partyId, [otherSide]: textIn(form, 'other') };
      return (await call<WholeTitle>('POST', '/api/titles', { body })).value;
    },
    onSuccess: async ({ id }) => {
      await queries.invalidateQueries({ queryKey: ['desk'] });
      go(paths.title(id));
    },
  });
  return (
    <form
      className="stack"
      onSubmit={(event) => {
        event.preventDefault();
        opening.mutate(new FormData(event.currentTarget));
      }}
    >
      <p>{said.newTitleSays}</p>
      <Field label={said.name} hint={said.nameHint}>
        {(ids) => <input {...ids} name="name" required maxLength={200} />}
      </Field>
      <fieldset className="field">
        <legend>{said.side}</legend>
        {SIDES.map((one) => (
          <label key={one} className="choice">
            <input type="radio" name="side" value={one} checked={side === one} onChange={() => setSide(one)} />
            {said.sides[one]}
          </label>
        ))}
      </fieldset>
      <Field label={said.other[otherSide]} hint={said.otherHint}>
        {(ids) => (
          <select {...ids} name="other" required>
            {others.map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </select>
        )}
      </Field>
      {opening.error && <TroubleNotice error={opening.error} doing={said.opening} />}
      <div className="row">
        <Button type="submit" look="firm" isBusy={opening.isPending}>
          {said.open}
        </Button>
      </div>
    </form>
  );
}
