import { useMutation, useQueryClient } from '@tanstack/react-query';
import type { WholeTitle } from '../call/answers.ts';
import { call } from '../call/call.ts';
import { Button } from '../pieces/button.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { Field } from '../pieces/field.tsx';
import { textIn } from '../pieces/form-values.ts';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { words } from '../words/index.ts';

const said = words.titles;

interface RenameGiven {
  readonly title: WholeTitle;
  /** Of the title as it was seen: a name that somebody else changed meanwhile is not overwritten. */
  readonly etag: string | null;
  readonly onClose: () => void;
}

/** Gives a title another name. */
export function RenameTitle({ title, etag, onClose }: RenameGiven) {
  const queries = useQueryClient();
  const renaming = useMutation({
    mutationFn: (form: FormData) =>
      call('PATCH', `/api/titles/${title.id}`, { body: { name: textIn(form, 'name') }, ifMatch: etag }),
    onSettled: () =>
      Promise.all([['title', title.id], ['desk']].map((queryKey) => queries.invalidateQueries({ queryKey }))),
    onSuccess: onClose,
  });
  return (
    <Dialog title={said.rename} onClose={onClose}>
      <form
        className="stack"
        onSubmit={(event) => {
          event.preventDefault();
          renaming.mutate(new FormData(event.currentTarget));
        }}
      >
        <Field label={said.name} hint={said.nameHint}>
          {(ids) => <input {...ids} name="name" defaultValue={title.name} required maxLength={200} />}
        </Field>
        {renaming.error && <TroubleNotice error={renaming.error} doing={said.renaming} />}
        <div className="row">
          <Button type="submit" look="firm" isBusy={renaming.isPending}>
            {said.renameDo}
          </Button>
        </div>
      </form>
    </Dialog>
  );
}
