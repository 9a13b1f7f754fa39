import { useMutation } from '@tanstack/react-query';
import { call } from '../call/call.ts';
import type { Me } from '../call/answers.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { textIn } from '../pieces/form-values.ts';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { words } from '../words/index.ts';

/** Name and password. */
export function SignInForm({ onSignedIn }: { readonly onSignedIn: (me: Me) => void }) {
  const signIn = useMutation({
    mutationFn: async (form: FormData) => {
      const body = { signInName: textIn(form, 'signInName'), password: textIn(form, 'password') };
      return (await call<Me>('POST', '/api/sessions', { body, isRenewing: false })).value;
    },
    onSuccess: onSignedIn,
  });
  return (
    <form
      className="stack"
      onSubmit={(event) => {
        event.preventDefault();
        signIn.mutate(new FormData(event.currentTarget));
      }}
    >
      <Field label={words.session.signInName}>
        {(ids) => <input {...ids} name="signInName" required maxLength={200} autoComplete="username" />}
      </Field>
      <Field label={words.session.password}>
        {(ids) => (
          <input {...ids} name="password" type="password" required maxLength={200} autoComplete="current-password" />
        )}
      </Field>
      {signIn.error && <TroubleNotice error={signIn.error} doing={words.session.signingIn} />}
      <div className="row">
        <Button type="submit" look="firm" isBusy={signIn.isPending}>
          {words.session.signIn}
        </Button>
      </div>
    </form>
  );
}
