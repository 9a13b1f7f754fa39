import type { Party } from '../../src/model/index.ts';
import type { Signature } from '../call/answers.ts';
import { Tag } from '../pieces/notice.tsx';
import { words } from '../words/index.ts';

const said = words.release;
const SIDES: readonly Party[] = ['publisher', 'printer'];

interface SignaturesGiven {
  readonly signatures: readonly Signature[];
  readonly names: Readonly<Record<Party, string>>;
}

/** Who of the two sides has signed, and where it stands in the log. */
export function Signatures({ signatures, names }: SignaturesGiven) {
  return (
    <ul className="both">
      {SIDES.map((side) => {
        const own = signatures.find(({ party }) => party === side);
        return (
          <li key={side}>
            <p className="small soft">{names[side]}</p>
            {own === undefined ? (
              <Tag tone="look">{said.notSigned}</Tag>
            ) : (
              <>
                <Tag tone="well">{said.signed}</Tag>
                <p className="small">{said.signedAt(words.figures.moment(own.at), own.logIndex)}</p>
              </>
            )}
          </li>
        );
      })}
    </ul>
  );
}
