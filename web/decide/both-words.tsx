import type { Party } from '../../src/model/index.ts';
import { Tag, type Tone } from '../pieces/notice.tsx';
import { words } from '../words/index.ts';
import type { Ruling, Word } from './queries.ts';

const said = words.decide;
const SIDES: readonly Party[] = ['publisher', 'printer'];
const TONES: Readonly<Record<Ruling['state'], Tone>> = {
  none: 'look',
  'one-side': 'look',
  conflicting: 'stop',
  settled: 'well',
};

/** Where a finding stands between the sides, in a word. */
export function RulingTag({ state }: { readonly state: Ruling['state'] }) {
  return <Tag tone={TONES[state]}>{said.states[state]}</Tag>;
}

interface BothGiven {
  readonly ruling: Ruling;
  readonly names: Readonly<Record<Party, string>>;
}

/** What both sides say of a finding, next to each other, so that a conflict is seen as one. */
export function BothWords({ ruling, names }: BothGiven) {
  return (
    <div className={`both ${ruling.state}`}>
      {SIDES.map((side) => (
        <div key={side}>
          <p className="small soft">{names[side]}</p>
          <Said word={ruling[side]} />
        </div>
      ))}
    </div>
  );
}

function Said({ word }: { readonly word: Word | null }) {
  if (word === null) return <p className="soft">{said.nothing}</p>;
  return (
    <>
      <p className={`decision ${word.decision}`}>{said.decisions[word.decision]}</p>
      <p className="small">
        {said.accounts[word.account]} · <span className="moment">{words.figures.moment(word.at)}</span>
      </p>
    </>
  );
}
