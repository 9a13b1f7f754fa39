import type { LogEntryKind } from '../../src/model/index.ts';
import { Field } from '../pieces/field.tsx';
import { words } from '../words/index.ts';
import type { Wanted } from './lines-that-fit.ts';

const said = words.archive;

interface FilterGiven {
  readonly wanted: Wanted;
  /** Those that the record has. */
  readonly kinds: ReadonlySet<LogEntryKind>;
  readonly onChange: (wanted: Wanted) => void;
}

/** Narrows a record: by what happened, since when, and by words. */
export function RecordFilter({ wanted, kinds, onChange }: FilterGiven) {
  return (
    <div className="row finder" role="search">
      <Field label={said.onlyKind}>
        {(ids) => (
          <select
            {...ids}
            value={wanted.kind}
            onChange={(event) => onChange({ ...wanted, kind: event.currentTarget.value as Wanted['kind'] })}
          >
            <option value="any">{said.everyKind}</option>
            {[...kinds].map((kind) => (
              <option key={kind} value={kind}>
                {said.entryKinds[kind]}
              </option>
            ))}
          </select>
        )}
      </Field>
      <Field label={said.since}>
        {(ids) => (
          <input
            {...ids}
            type="date"
            value={wanted.since}
            onChange={(event) => onChange({ ...wanted, since: event.currentTarget.value })}
          />
        )}
      </Field>
      <Field label={said.text}>
        {(ids) => (
          <input
            {...ids}
            type="search"
            value={wanted.text}
            onChange={(event) => onChange({ ...wanted, text: event.currentTarget.value })}
          />
        )}
      </Field>
    </div>
  );
}
