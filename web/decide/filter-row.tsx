import type { Party } from '../../src/model/index.ts';
import type { Weight } from '../call/answers.ts';
import { Field } from '../pieces/field.tsx';
import { words } from '../words/index.ts';
import { shownBy, type FindingFilter, type Stand } from './filter.ts';
import type { FoundFinding } from './queries.ts';

const said = words.decide;
const STANDS: readonly Stand[] = ['all', 'mine', 'open', 'conflicting', 'settled'];
const WEIGHTS: readonly (Weight | 'all')[] = ['all', 'stop', 'look', 'note'];

interface FilterGiven {
  readonly filter: FindingFilter;
  readonly onFilter: (filter: FindingFilter) => void;
  readonly all: readonly FoundFinding[];
  readonly side: Party | null;
}

/** Which findings are shown; beside each choice how many it would show. */
export function FilterRow({ filter, onFilter, all, side }: FilterGiven) {
  const stands = STANDS.filter((stand) => side !== null || stand !== 'mine');
  return (
    <div className="row finder">
      <Field label={said.standLabel}>
        {(ids) => (
          <select
            {...ids}
            value={filter.stand}
            onChange={(event) => onFilter({ ...filter, stand: event.currentTarget.value as Stand })}
          >
            {stands.map((stand) => (
              <option key={stand} value={stand}>
                {said.stands[stand]} ({shownBy({ ...filter, stand }, all, side).length})
              </option>
            ))}
          </select>
        )}
      </Field>
      <Field label={said.weightLabel}>
        {(ids) => (
          <select
            {...ids}
            value={filter.weight}
            onChange={(event) => onFilter({ ...filter, weight: event.currentTarget.value as Weight | 'all' })}
          >
            {WEIGHTS.map((weight) => (
              <option key={weight} value={weight}>
                {weight === 'all' ? said.stands.all : words.files.weights[weight]} (
                {shownBy({ ...filter, weight }, all, side).length})
              </option>
            ))}
          </select>
        )}
      </Field>
    </div>
  );
}
