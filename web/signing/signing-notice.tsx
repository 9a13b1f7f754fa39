import { Refusal } from '../../src/model/index.ts';
import { saveText } from '../archive/save-text.ts';
import { Trouble } from '../call/trouble.ts';
import { Button } from '../pieces/button.tsx';
import { Notice } from '../pieces/notice.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { words } from '../words/index.ts';
import { CheckTable } from './check-table.tsx';
import { DraftTrouble, SplitTrouble } from './signing-trouble.ts';

const said = words.signing;

/** Why nothing was signed: what happened, what is safe, what to do next. */
export function SigningTrouble({ error }: { readonly error: unknown }) {
  if (error instanceof SplitTrouble) return <Split trouble={error} />;
  if (error instanceof DraftTrouble) {
    const wrong = error.checks.filter(({ outcome }) => outcome !== 'holds');
    return (
      <Notice tone="stop" title={said.unlike} isNews>
        <p>{said.unlikeSays}</p>
        <CheckTable checks={wrong.map((check) => ({ about: said.ofDraft(check.name), check }))} />
        <p>{said.unlikeNext}</p>
      </Notice>
    );
  }
  if (error instanceof Refusal) {
    return <TroubleNotice error={new Trouble('unproven', error.message)} doing={said.doing} />;
  }
  return <TroubleNotice error={error} doing={said.doing} />;
}

function Split({ trouble: { how, before, now } }: { readonly trouble: SplitTrouble }) {
  return (
    <Notice tone="stop" title={said.split} isNews>
      <p>{said.splitHow[how]}</p>
      <p>{said.splitNext}</p>
      <div className="row">
        <Button onClick={() => saveText('two-heads.txt', 'text/plain', `${before}\n\n${now}`)}>{said.splitSave}</Button>
      </div>
    </Notice>
  );
}
