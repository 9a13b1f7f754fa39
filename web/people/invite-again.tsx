import { useMutation } from '@tanstack/react-query';
import type { InvitationMade } from '../call/answers.ts';
import { call } from '../call/call.ts';
import { Button } from '../pieces/button.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { words } from '../words/index.ts';
import { LinkMade } from './link-made.tsx';

const said = words.people;

/** Another link for somebody who lost theirs. */
export function InviteAgain({ personId, name }: { readonly personId: string; readonly name: string }) {
  const inviting = useMutation({
    mutationFn: async () => (await call<InvitationMade>('POST', `/api/people/${personId}/invitations`)).value,
  });
  return (
    <>
      {' '}
      <Button look="bare" isBusy={inviting.isPending} onClick={() => inviting.mutate()}>
        {said.inviteAgain}
      </Button>
      {(inviting.data ?? inviting.error) && (
        <Dialog title={said.inviteAgain} onClose={() => inviting.reset()}>
          {inviting.data && <LinkMade name={name} made={inviting.data} />}
          {inviting.error && <TroubleNotice error={inviting.error} doing={said.inviting} />}
        </Dialog>
      )}
    </>
  );
}
