import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { useLocation } from 'wouter';
import type { Me, Party, Person } from '../call/answers.ts';
import { call } from '../call/call.ts';
import { paths } from '../paths.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { textIn } from '../pieces/form-values.ts';
import { Page } from '../pieces/page.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { words } from '../words/index.ts';
import { meQuery } from './me.ts';

interface Invitation {
  readonly guest: { readonly person: Person; readonly party: Party } | null;
}

const said = words.session.invitation;

/** What the link of an invitation opens: it makes an account. The link's secret never leaves the part behind the #. */
export default function InvitationView() {
  const [invitation] = useState(() => location.hash.slice(1));
  const found = useQuery({
    queryKey: ['invitation', invitation],
    queryFn: async () =>
      (await call<Invitation>('POST', '/api/invitations/lookup', { body: { invitation }, isRenewing: false })).value,
    retry: false,
    refetchOnWindowFocus: false,
  });
  const guest = found.data?.guest;
  return (
    <Page title={said.title}>
      <div className="stack">
        {found.error && <TroubleNotice error={found.error} doing={said.opening} />}
        {found.data !== undefined && (
          <>
            <p>{guest == null ? said.first : said.guest(guest.person.name, guest.party.name)}</p>
            <AccountForm invitation={invitation} isFirst={guest === null} />
          </>
        )}
      </div>
    </Page>
  );
}

function AccountForm({ invitation, isFirst }: { readonly invitation: string; readonly isFirst: boolean }) {
  const queries = useQueryClient();
  const [, go] = useLocation();
  const making = useMutation({
    mutationFn: async (form: FormData) => {
      const first = { party: textIn(form, 'party'), person: textIn(form, 'person') };
      const own = { invitation, signInName: textIn(form, 'signInName'), password: textIn(form, 'password') };
      const body = isFirst ? { ...own, first } : own;
      return (await call<Me>('POST', '/api/accounts', { body, isRenewing: false })).value;
    },
    onSuccess: (me) => {
      queries.clear();
      queries.setQueryData(meQuery.queryKey, me);
      go(paths.home, { replace: true });
    },
  });
  return (
    <form
      className="stack"
      onSubmit={(event) => {
        event.preventDefault();
        making.mutate(new FormData(event.currentTarget));
      }}
    >
      {isFirst && (
        <>
          <Field label={said.party} hint={said.partyHint}>
            {(ids) => <input {...ids} name="party" required maxLength={64} autoComplete="organization" />}
          </Field>
          <Field label={said.person} hint={said.personHint}>
            {(ids) => <input {...ids} name="person" required maxLength={64} autoComplete="name" />}
          </Field>
        </>
      )}
      <Field label={words.session.signInName} hint={said.signInNameHint}>
        {(ids) => <input {...ids} name="signInName" required maxLength={200} autoComplete="username" />}
      </Field>
      <Field label={words.session.password} hint={said.passwordHint}>
        {(ids) => (
          <input
            {...ids}
            name="password"
            type="password"
            required
            minLength={12}
            maxLength={200}
            autoComplete="new-password"
          />
        )}
      </Field>
      {making.error && <TroubleNotice error={making.error} doing={said.making} />}
      <div className="row">
        <Button type="submit" look="firm" isBusy={making.isPending}>
          {said.make}
        </Button>
      </div>
    </form>
  );
}
