import { useMutation } from '@tanstack/react-query';
import { useRef } from 'react';
import { call } from '../call/call.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { textIn } from '../pieces/form-values.ts';
import { Notice } from '../pieces/notice.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { words } from '../words/index.ts';

const said = words.people;

/** Another password. A present one that is not right is an answer, no session that ran out. */
export function ChangePassword() {
  const form = useRef<HTMLFormElement>(null);
  const changing = useMutation({
    mutationFn: (told: FormData) => {
      const body = { present: textIn(told, 'present'), next: textIn(told, 'next') };
      return call('PUT', '/api/account/password', { body, isRenewing: false });
    },
    onSuccess: () => form.current?.reset(),
  });
  return (
    <section className="section" aria-labelledby="password">
      <h2 id="password">{said.password}</h2>
      <form
        className="stack"
        ref={form}
        onSubmit={(event) => {
          event.preventDefault();
          changing.mutate(new FormData(event.currentTarget));
        }}
      >
        <Field label={said.present}>
          {(ids) => <input {...ids} name="present" type="password" required autoComplete="current-password" />}
        </Field>
        <Field label={said.next} hint={said.nextHint}>
          {(ids) => (
            <input
              {...ids}
              name="next"
              type="password"
              required
              minLength={12}
              maxLength={200}
              autoComplete="new-password"
            />
          )}
        </Field>
        {changing.error && <TroubleNotice error={changing.error} doing={said.changingPassword} />}
        {changing.isSuccess && <Notice tone="well" title={said.changedPassword} isNews />}
        <div className="row">
          <Button type="submit" isBusy={changing.isPending}>
            {said.changePassword}
          </Button>
        </div>
      </form>
    </section>
  );
}
