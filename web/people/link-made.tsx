import type { InvitationMade } from '../call/answers.ts';
import { paths } from '../paths.ts';
import { Notice } from '../pieces/notice.tsx';
import { SecretField } from '../pieces/secret-field.tsx';
import { words } from '../words/index.ts';

const said = words.people;

/** The link of an invitation, which is shown once. */
export function LinkMade({ name, made }: { readonly name: string; readonly made: InvitationMade }) {
  // Behind the #, a secret is sent to nobody and stands in no journal.
  const link = `${location.origin}${paths.invitation}#${made.secret}`;
  return (
    <Notice tone="well" title={said.link} isNews>
      <p>{said.linkSays(name, words.figures.moment(made.until))}</p>
      <SecretField label={said.linkLabel} value={link} copy={said.copy} />
    </Notice>
  );
}
