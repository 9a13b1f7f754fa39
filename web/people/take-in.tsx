import { useMutation, useQueryClient } from '@tanstack/react-query';
import type { InvitationMade, Person } from '../call/answers.ts';
import { call } from '../call/call.ts';
import { Button } from '../pieces/button.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { Field } from '../pieces/field.tsx';
import { textIn } from '../pieces/form-values.ts';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { words } from '../words/index.ts';
import { LinkMade } from './link-made.tsx';
import { rightsIn, RightsField } from './rights-field.tsx';

const said = words.people;

/** Takes somebody into one's own party, and shows the link for them. */
export function TakeIn({ onClose }: { readonly onClose: () => void }) {
  const queries = useQueryClient();
  const taking = useMutation({
    mutationFn: async (form: FormData) => {
      const body = { name: textIn(form, 'name'), rights: rightsIn(form) };
      return (await call<{ person: Person; invitation: InvitationMade }>('POST', '/api/people', { body })).value;
    },
    onSuccess: () => queries.invalidateQueries({ queryKey: ['people'] }),
  });
  return (
    <Dialog title={said.take} onClose={onClose}>
      {taking.data ? (
        <LinkMade name={taking.data.person.name} made={taking.data.invitation} />
      ) : (
        <form
          className="stack"
          onSubmit={(event) => {
            event.preventDefault();
            taking.mutate(new FormData(event.currentTarget));
          }}
        >
          <Field label={said.name} hint={said.certified}>
            {(ids) => <input {...ids} name="name" required maxLength={64} />}
          </Field>
          <RightsField given={['look']} />
          {taking.error && <TroubleNotice error={taking.error} doing={said.taking} />}
          <div className="row">
            <Button type="submit" look="firm" isBusy={taking.isPending}>
              {said.takeDo}
            </Button>
          </div>
        </form>
      )}
    </Dialog>
  );
}
