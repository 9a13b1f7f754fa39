import { BINDINGS, WORKINGS } from '../../src/model/index.ts';
import { Field } from '../pieces/field.tsx';
import { words } from '../words/index.ts';
import type { FoldingChoice } from './folding.ts';

const said = words.sending;
const WAYS = ['sheets', 'folds', 'plan'] as const;

interface FoldingGiven {
  /** Those that may be chosen. */
  readonly ways?: readonly FoldingChoice['by'][];
  readonly choice: FoldingChoice;
  readonly onChoose: (choice: FoldingChoice) => void;
}

/** How sheets that are sent fold: nothing need be said, for it is found from them. */
export function FoldingFields({ ways = WAYS, choice, onChoose }: FoldingGiven) {
  const { by, fold, bound, working, plan } = choice;
  return (
    <>
      <Choice
        label={said.folding}
        hint={said.foldingHints[by]}
        options={ways}
        names={said.foldingBy}
        value={by}
        onChange={(now) => onChoose({ ...choice, by: now })}
      />
      {by === 'folds' && (
        <>
          <Field label={said.fold} hint={said.foldHint}>
            {(ids) => (
              <input
                {...ids}
                required
                maxLength={120}
                value={fold}
                onChange={(event) => onChoose({ ...choice, fold: event.currentTarget.value })}
              />
            )}
          </Field>
          <Choice
            label={said.bound}
            options={BINDINGS}
            names={said.bindings}
            value={bound}
            onChange={(now) => onChoose({ ...choice, bound: now })}
          />
          <Choice
            label={said.working}
            options={WORKINGS}
            names={said.workings}
            value={working}
            onChange={(now) => onChoose({ ...choice, working: now })}
          />
        </>
      )}
      {by === 'plan' && (
        <Field label={said.planFile} hint={said.planFileHint}>
          {(ids) => (
            <input
              {...ids}
              type="file"
              accept=".json,application/json"
              required={plan === null}
              onChange={(event) => onChoose({ ...choice, plan: event.currentTarget.files?.[0] ?? null })}
            />
          )}
        </Field>
      )}
    </>
  );
}

interface ChoiceGiven<T extends string> {
  readonly label: string;
  readonly hint?: string;
  readonly options: readonly T[];
  readonly names: Readonly<Record<T, string>>;
  readonly value: T;
  readonly onChange: (value: T) => void;
}

function Choice<T extends string>({ label, hint, options, names, value, onChange }: ChoiceGiven<T>) {
  return (
    <Field label={label} {...(hint === undefined ? {} : { hint })}>
      {(ids) => (
        <select
          {...ids}
          value={value}
          onChange={(event) => onChange(options[event.currentTarget.selectedIndex] ?? value)}
        >
          {options.map((option) => (
            <option key={option} value={option}>
              {names[option]}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}
