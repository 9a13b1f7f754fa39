import type { Right } from '../call/answers.ts';
import { words } from '../words/index.ts';

const RIGHTS: readonly Right[] = ['look', 'send-files', 'sign'];

/** What somebody may do, as boxes to tick. */
export function RightsField({ given }: { readonly given: readonly Right[] }) {
  return (
    <fieldset className="field">
      <legend>{words.people.rightsHead}</legend>
      {RIGHTS.map((right) => (
        <label key={right} className="choice">
          <input type="checkbox" name="right" value={right} defaultChecked={given.includes(right)} />
          {words.people.rights[right]}
        </label>
      ))}
    </fieldset>
  );
}

/** Those that were ticked. */
export function rightsIn(form: FormData): readonly Right[] {
  const ticked = form.getAll('right');
  return RIGHTS.filter((right) => ticked.includes(right));
}
