import { useSuspenseQueries } from '@tanstack/react-query';
import { useState } from 'react';
import type { Member } from '../call/answers.ts';
import { Button } from '../pieces/button.tsx';
import { Empty } from '../pieces/empty.tsx';
import { Page } from '../pieces/page.tsx';
import { Table } from '../pieces/table.tsx';
import { useMay, useMe } from '../session/me.ts';
import { partiesQuery } from '../titles/queries.ts';
import { words } from '../words/index.ts';
import { BringIn } from './bring-in.tsx';
import { ChangeRights } from './change-rights.tsx';
import { InviteAgain } from './invite-again.tsx';
import { membersQuery } from './queries.ts';
import { TakeIn } from './take-in.tsx';

const said = words.people;

/** The people of one's own party, and the parties that it knows. */
export default function PeopleView() {
  const { party } = useMe();
  const maySign = useMay('sign');
  const [{ data: members }, { data: parties }] = useSuspenseQueries({ queries: [membersQuery, partiesQuery] });
  const [shown, show] = useState<'take' | 'bring' | null>(null);
  const others = parties.filter(({ id }) => id !== party.id);
  return (
    <Page title={said.heading}>
      <div className="stack-wide">
        <section className="section" aria-labelledby="own">
          <h2 id="own">{said.own(party.name)}</h2>
          <Members members={members} maySign={maySign} />
          {maySign ? (
            <div className="row">
              <Button onClick={() => show('take')}>{said.take}</Button>
            </div>
          ) : (
            <p className="soft">{said.mayNot}</p>
          )}
        </section>
        <section className="section" aria-labelledby="parties">
          <h2 id="parties">{said.parties}</h2>
          <p className="soft">{said.partiesSay}</p>
          {others.length === 0 && (
            <Empty title={said.noParty}>
              <p>{said.noPartyNext}</p>
            </Empty>
          )}
          <ul className="stack">
            {others.map(({ id, name }) => (
              <li key={id}>{name}</li>
            ))}
          </ul>
          {maySign && (
            <div className="row">
              <Button look={others.length === 0 ? 'firm' : 'plain'} onClick={() => show('bring')}>
                {said.bringIn}
              </Button>
            </div>
          )}
        </section>
      </div>
      {shown === 'take' && <TakeIn onClose={() => show(null)} />}
      {shown === 'bring' && <BringIn onClose={() => show(null)} />}
    </Page>
  );
}

function Members({ members, maySign }: { readonly members: readonly Member[]; readonly maySign: boolean }) {
  const heads = [said.name, said.doesHead, said.account, ...(maySign ? [said.change] : [])];
  return (
    <Table name={said.heading} heads={heads}>
      {members.map((member) => (
        <tr key={member.id}>
          <th scope="row">{member.name}</th>
          <td>{said.does(member.rights)}</td>
          <td>
            {member.hasAccount ? said.hasAccount : said.noAccount}
            {maySign && !member.hasAccount && <InviteAgain personId={member.id} name={member.name} />}
          </td>
          {maySign && (
            <td>
              <ChangeRights member={member} />
            </td>
          )}
        </tr>
      ))}
    </Table>
  );
}
