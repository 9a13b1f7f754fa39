import { useMutation } from '@tanstack/react-query';
import { useState } from 'react';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { textIn } from '../pieces/form-values.ts';
import { Notice } from '../pieces/notice.tsx';
import { useMe } from '../session/me.ts';
import { words } from '../words/index.ts';
import { KeyTrouble, workOnKey } from './key-work.ts';
import { holdKey, type OwnKey } from './own-key.ts';

const said = words.keys;

/** Opens one's key from its file and passphrase; both stay in this browser. */
export function OpenKey({ onOpened }: { readonly onOpened?: (key: OwnKey) => void }) {
  const me = useMe();
  const [file, choose] = useState<File | null>(null);
  const opening = useMutation({
    mutationFn: async (passphrase: string): Promise<OwnKey> => {
      if (file === null) throw new KeyTrouble(said.noFile);
      const bytes = new Uint8Array(await file.arrayBuffer());
      const { certificate, privateKey } = await workOnKey({ what: 'open', file: bytes, passphrase });
      return holdKey({ certificate, privateKey }, me);
    },
    onSuccess: (key) => onOpened?.(key),
  });
  return (
    <form
      className="stack"
      onSubmit={(event) => {
        event.preventDefault();
        opening.mutate(textIn(new FormData(event.currentTarget), 'passphrase'));
      }}
    >
      <Field label={said.file} hint={said.fileHint}>
        {(ids) => (
          <input
            {...ids}
            type="file"
            accept=".p12,.pfx,application/x-pkcs12"
            required
            onChange={(event) => choose(event.currentTarget.files?.[0] ?? null)}
          />
        )}
      </Field>
      <Field label={said.passphrase} hint={said.passphraseHint}>
        {(ids) => <input {...ids} name="passphrase" type="password" required autoComplete="off" />}
      </Field>
      {opening.error && (
        <Notice tone="look" title={said.notOpened} isNews>
          <p>{said.notOpenedSays}</p>
          <p className="soft small">{opening.error.message}</p>
        </Notice>
      )}
      <div className="row">
        <Button type="submit" look="firm" isBusy={opening.isPending}>
          {opening.isPending ? said.opening : said.open}
        </Button>
      </div>
    </form>
  );
}
