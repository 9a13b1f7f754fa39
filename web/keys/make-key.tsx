import { useMutation } from '@tanstack/react-query';
import { useState } from 'react';
import { formatInstant } from '../../src/sealing/index.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { textIn } from '../pieces/form-values.ts';
import { Notice } from '../pieces/notice.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { useMe } from '../session/me.ts';
import { words } from '../words/index.ts';
import { Fingerprint } from './fingerprint.tsx';
import { Introduce } from './introduce.tsx';
import { KeyTrouble, workOnKey, type WorkedKey } from './key-work.ts';
import { holdKey, type OwnKey } from './own-key.ts';

const said = words.keys;
const LEAST_CHARACTERS = 12;

/** Makes a key of one's own: made here, saved by its owner, then made known by its certificate alone. */
export function MakeKey() {
  const me = useMe();
  const [wrong, complain] = useState<'short' | 'unlike' | null>(null);
  const making = useMutation({
    mutationFn: async (passphrase: string) => {
      const from = formatInstant(new Date());
      const who = { name: me.person.name, organisation: me.party.name, from };
      const made = await workOnKey({ what: 'make', ...who, passphrase });
      return { made, own: await holdKey(made, me) };
    },
  });
  if (making.data !== undefined) return <Made {...making.data} />;
  const submit = (form: FormData): void => {
    const [one, again] = [textIn(form, 'passphrase'), textIn(form, 'again')];
    const now = one.length < LEAST_CHARACTERS ? 'short' : one === again ? null : 'unlike';
    complain(now);
    if (now === null) making.mutate(one);
  };
  return (
    <form
      className="stack"
      onSubmit={(event) => {
        event.preventDefault();
        submit(new FormData(event.currentTarget));
      }}
    >
      <p>{said.makeFor(me.person.name, me.party.name)}</p>
      <Field
        label={said.newPassphrase}
        hint={said.newPassphraseHint}
        wrong={wrong === 'short' ? said.short : undefined}
      >
        {(ids) => <input {...ids} name="passphrase" type="password" required autoComplete="off" />}
      </Field>
      <Field label={said.again} wrong={wrong === 'unlike' ? said.unlike : undefined}>
        {(ids) => <input {...ids} name="again" type="password" required autoComplete="off" />}
      </Field>
      {making.error instanceof KeyTrouble && <Notice tone="stop" title={making.error.message} isNews />}
      {making.error && !(making.error instanceof KeyTrouble) && (
        <TroubleNotice error={making.error} doing={said.making} />
      )}
      <div className="row">
        <Button type="submit" look="firm" isBusy={making.isPending}>
          {making.isPending ? said.beingMade : said.make}
        </Button>
      </div>
    </form>
  );
}

/** A key that was just made: first it is saved, then its certificate is made known. */
function Made({ made, own }: { readonly made: WorkedKey; readonly own: OwnKey }) {
  const [isSaved, setSaved] = useState(false);
  const save = (): void => {
    const address = URL.createObjectURL(new Blob([made.file ?? ''], { type: 'application/x-pkcs12' }));
    const link = document.createElement('a');
    link.href = address;
    link.download = `${own.name.replace(/[^\p{L}\p{N}]+/gu, '-')}.p12`;
    link.click();
    // The browser reads it after this; a minute is enough for any disk.
    window.setTimeout(() => URL.revokeObjectURL(address), 60_000);
    setSaved(true);
  };
  return (
    <ol className="steps">
      <li className="stack">
        <h3>{said.saveHeading}</h3>
        <p>{said.saveSays}</p>
        <div className="row">
          <Button look={isSaved ? 'plain' : 'firm'} onClick={save}>
            {said.save}
          </Button>
          <span role="status">{isSaved ? said.saved : ''}</span>
        </div>
      </li>
      <li className="stack">
        <h3>{said.introduceHeading}</h3>
        <p>{said.introduceSays}</p>
        <Introduce own={own} isReady={isSaved} />
      </li>
      <li className="stack">
        <h3>{said.readHeading}</h3>
        <Fingerprint value={own.fingerprint} />
        <p>{said.readSays}</p>
      </li>
    </ol>
  );
}
