import type { LogActor } from '../../src/model/index.ts';
import { words } from '../words/index.ts';
import type { Names } from './queries.ts';

/** Who did it: the side, and the person where one may know their name. */
export function whoOf({ party, person }: LogActor, names: Names): string {
  const side = words.archive.partyOf(party);
  const name = person === null ? undefined : names.get(person);
  return name === undefined ? side : `${name}, ${side}`;
}
