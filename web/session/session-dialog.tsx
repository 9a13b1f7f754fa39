import { useQueryClient } from '@tanstack/react-query';
import { useSyncExternalStore } from 'react';
import type { Me } from '../call/answers.ts';
import { Dialog } from '../pieces/dialog.tsx';
import { words } from '../words/index.ts';
import { meQuery } from './me.ts';
import { endWaiting, isSessionWanted, onSessionWanted } from './renewing.ts';
import { SignInForm } from './sign-in-form.tsx';

/** Asks for the password again where a session ran out, over whatever is being written, which stays as it is. */
export function SessionDialog() {
  const isWanted = useSyncExternalStore(onSessionWanted, isSessionWanted);
  const queries = useQueryClient();
  if (!isWanted) return null;
  const before = queries.getQueryData(meQuery.queryKey);
  const goOn = (me: Me): void => {
    // Somebody else must not send what was written under another name.
    if (before != null && before.person.id !== me.person.id) {
      endWaiting(false);
      location.assign('/');
      return;
    }
    queries.setQueryData(meQuery.queryKey, me);
    endWaiting(true);
  };
  return (
    <Dialog title={words.session.ranOut} onClose={() => endWaiting(false)}>
      <p>{words.session.nothingLost}</p>
      <SignInForm onSignedIn={goOn} />
    </Dialog>
  );
}
