import { useMutation, useQueryClient } from '@tanstack/react-query';
import type { InvitationMade, Party, Person } from '../call/answers.ts';
import { call } from '../call/call.ts';
import { Button } from '../pieces/button.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { Field } from '../pieces/field.tsx';
import { textIn } from '../pieces/form-values.ts';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { words } from '../words/index.ts';
import { LinkMade } from './link-made.tsx';

const said = words.people;

interface BroughtIn {
  readonly party: Party;
  readonly person: Person;
  readonly invitation: InvitationMade;
}

/** Brings a party in with its first person, and shows the link for them. */
export function BringIn({ onClose }: { readonly onClose: () => void }) {
  const queries = useQueryClient();
  const bringing = useMutation({
    mutationFn: async (form: FormData) => {
      const body = { party: textIn(form, 'party'), person: textIn(form, 'person') };
      return (await call<BroughtIn>('POST', '/api/parties', { body })).value;
    },
    onSuccess: () => queries.invalidateQueries({ queryKey: ['parties'] }),
  });
  return (
    <Dialog title={said.bringIn} onClose={onClose}>
      {bringing.data ? (
        <LinkMade name={bringing.data.person.name} made={bringing.data.invitation} />
      ) : (
        <form
          className="stack"
          onSubmit={(event) => {
            event.preventDefault();
            bringing.mutate(new FormData(event.currentTarget));
          }}
        >
          <Field label={said.party} hint={said.partyHint}>
            {(ids) => <input {...ids} name="party" required maxLength={64} />}
          </Field>
          <Field label={said.first} hint={said.certified}>
            {(ids) => <input {...ids} name="person" required maxLength={64} />}
          </Field>
          {bringing.error && <TroubleNotice error={bringing.error} doing={said.bringing} />}
          <div className="row">
            <Button type="submit" look="firm" isBusy={bringing.isPending}>
              {said.bringInDo}
            </Button>
          </div>
        </form>
      )}
    </Dialog>
  );
}
