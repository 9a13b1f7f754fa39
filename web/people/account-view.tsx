import { useMe } from '../session/me.ts';
import { Page } from '../pieces/page.tsx';
import { words } from '../words/index.ts';
import { ChangePassword } from './change-password.tsx';
import { Tokens } from './tokens.tsx';

const said = words.people;

/** One's own account: who one is here, the password, and tokens for machines. */
export default function AccountView() {
  const { person, party } = useMe();
  return (
    <Page title={said.accountHeading}>
      <div className="stack-wide">
        <dl className="facts">
          <dt>{said.name}</dt>
          <dd>{person.name}</dd>
          <dt>{said.giveTo}</dt>
          <dd>{party.name}</dd>
          <dt>{said.doesHead}</dt>
          <dd>{said.does(person.rights)}</dd>
        </dl>
        <Tokens />
        <ChangePassword />
      </div>
    </Page>
  );
}
