import { useMutation, useQueryClient, useSuspenseQueries } from '@tanstack/react-query';
import type { Party } from '../call/answers.ts';
import { call } from '../call/call.ts';
import { paths } from '../paths.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { textIn } from '../pieces/form-values.ts';
import { Page } from '../pieces/page.tsx';
import { Table } from '../pieces/table.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { useMay } from '../session/me.ts';
import { partiesQuery, titleQuery } from '../titles/queries.ts';
import type { ViewGiven } from '../view.ts';
import { words } from '../words/index.ts';
import { sightQuery } from './queries.ts';

const said = words.people;

/** Who sees a title: both sides, and whoever was given sight. */
export default function SightView({ params: { titleId = '' } }: ViewGiven) {
  const [{ data: title }, { data: seers }, { data: parties }] = useSuspenseQueries({
    queries: [titleQuery(titleId), sightQuery(titleId), partiesQuery],
  });
  const queries = useQueryClient();
  const again = () => queries.invalidateQueries({ queryKey: ['title', titleId] });
  const taking = useMutation({
    mutationFn: (partyId: string) => call('DELETE', `/api/titles/${titleId}/sight/${partyId}`),
    onSettled: again,
  });
  const mayGive = useMay('sign') && title.value.standing !== 'sight';
  return (
    <Page
      title={said.sight}
      above={[
        { to: paths.home, name: words.titles.heading },
        { to: paths.title(titleId), name: title.value.name },
      ]}
    >
      <div className="stack-wide">
        <div className="stack">
          <p>{said.sightSays}</p>
          <Table name={said.sight} heads={[said.giveTo, said.toTitle, ...(mayGive ? [said.takeBack] : [])]}>
            {seers.map(({ party, standing }) => (
              <tr key={party.id}>
                <th scope="row">{party.name}</th>
                <td>{said.standings[standing]}</td>
                {mayGive && (
                  <td>
                    {standing === 'sight' && (
                      <Button look="bare" isBusy={taking.isPending} onClick={() => taking.mutate(party.id)}>
                        {said.takeBack}
                      </Button>
                    )}
                  </td>
                )}
              </tr>
            ))}
          </Table>
          {taking.error && <TroubleNotice error={taking.error} doing={said.takingBack} />}
        </div>
        {mayGive && (
          <GiveSight
            titleId={titleId}
            to={parties.filter(({ id }) => !seers.some(({ party }) => party.id === id))}
            onGiven={again}
          />
        )}
      </div>
    </Page>
  );
}

interface GiveGiven {
  readonly titleId: string;
  readonly to: readonly Party[];
  readonly onGiven: () => Promise<void>;
}

function GiveSight({ titleId, to, onGiven }: GiveGiven) {
  const giving = useMutation({
    mutationFn: (form: FormData) => call('PUT', `/api/titles/${titleId}/sight/${textIn(form, 'party')}`),
    onSettled: onGiven,
  });
  return (
    <section className="section" aria-labelledby="give">
      <h2 id="give">{said.give}</h2>
      {to.length === 0 ? (
        <p className="soft">{said.nobodyToGive}</p>
      ) : (
        <form
          className="stack"
          onSubmit={(event) => {
            event.preventDefault();
            giving.mutate(new FormData(event.currentTarget));
          }}
        >
          <Field label={said.giveTo}>
            {(ids) => (
              <select {...ids} name="party" required>
                {to.map(({ id, name }) => (
                  <option key={id} value={id}>
                    {name}
                  </option>
                ))}
              </select>
            )}
          </Field>
          {giving.error && <TroubleNotice error={giving.error} doing={said.giving} />}
          <div className="row">
            <Button type="submit" isBusy={giving.isPending}>
              {said.give}
            </Button>
          </div>
        </form>
      )}
    </section>
  );
}
