import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useLocation } from 'wouter';
import type { Part, PartKind } from '../call/answers.ts';
import { call } from '../call/call.ts';
import { paths } from '../paths.ts';
import { Button } from '../pieces/button.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { Field } from '../pieces/field.tsx';
import { textIn } from '../pieces/form-values.ts';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { words } from '../words/index.ts';

const said = words.titles;

/** Opens a part of a title, and goes there. */
export function NewPart({ titleId, onClose }: { readonly titleId: string; readonly onClose: () => void }) {
  const queries = useQueryClient();
  const [, go] = useLocation();
  const opening = useMutation({
    mutationFn: async (form: FormData) => {
      const body = { kind: textIn(form, 'kind'), label: textIn(form, 'label').trim() };
      return (await call<Part>('POST', `/api/titles/${titleId}/parts`, { body })).value;
    },
    onSuccess: async ({ id }) => {
      await queries.invalidateQueries({ queryKey: ['title', titleId] });
      go(paths.part(titleId, id));
    },
  });
  return (
    <Dialog title={said.newPart} onClose={onClose}>
      <form
        className="stack"
        onSubmit={(event) => {
          event.preventDefault();
          opening.mutate(new FormData(event.currentTarget));
        }}
      >
        <Field label={said.partKind}>
          {(ids) => (
            <select {...ids} name="kind">
              {(Object.entries(said.partKinds) as [PartKind, string][]).map(([kind, name]) => (
                <option key={kind} value={kind}>
                  {name}
                </option>
              ))}
            </select>
          )}
        </Field>
        <Field label={said.partLabel} hint={said.partLabelHint}>
          {(ids) => <input {...ids} name="label" maxLength={100} />}
        </Field>
        {opening.error && <TroubleNotice error={opening.error} doing={said.openingPart} />}
        <div className="row">
          <Button type="submit" look="firm" isBusy={opening.isPending}>
            {said.openPart}
          </Button>
        </div>
      </form>
    </Dialog>
  );
}
