import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { Member } from '../call/answers.ts';
import { call } from '../call/call.ts';
import { Button } from '../pieces/button.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { words } from '../words/index.ts';
import { rightsIn, RightsField } from './rights-field.tsx';

const said = words.people;

/** What somebody may do from now on. */
export function ChangeRights({ member }: { readonly member: Member }) {
  const queries = useQueryClient();
  const [isOpen, setOpen] = useState(false);
  const changing = useMutation({
    mutationFn: (form: FormData) =>
      call('PUT', `/api/people/${member.id}/rights`, { body: { rights: rightsIn(form) } }),
    onSuccess: async () => {
      setOpen(false);
      await Promise.all([['people'], ['me']].map((queryKey) => queries.invalidateQueries({ queryKey })));
    },
  });
  return (
    <>
      <Button look="bare" aria-label={said.changeOf(member.name)} onClick={() => setOpen(true)}>
        {said.change}
      </Button>
      {isOpen && (
        <Dialog title={said.changeOf(member.name)} onClose={() => setOpen(false)}>
          <form
            className="stack"
            onSubmit={(event) => {
              event.preventDefault();
              changing.mutate(new FormData(event.currentTarget));
            }}
          >
            <RightsField given={member.rights} />
            {changing.error && <TroubleNotice error={changing.error} doing={said.changing} />}
            <div className="row">
              <Button type="submit" look="firm" isBusy={changing.isPending}>
                {said.keep}
              </Button>
            </div>
          </form>
        </Dialog>
      )}
    </>
  );
}
