import type { Account, Decision, Party } from '../../model/index.ts';
import { inForce } from './part-life.ts';
import { partLife } from './part-state.ts';
import type { RulingMade, Tables, Title } from '../catalogue/index.ts';

/** What a side last said on a finding. */
export interface Word {
  readonly decision: Decision;
  readonly account: Account;
  readonly statementId: string;
  readonly atMs: number;
}

/**
 * Where the two sides stand on a finding: neither has ruled, one has, both say different things, or both say the same
 * decision and the same account. Only the last word of each counts.
 */
export interface RulingState {
  readonly state: 'none' | 'one-side' | 'conflicting' | 'settled';
  readonly publisher: Word | null;
  readonly printer: Word | null;
}

/** What both sides say of a finding, and in which two statements. */
export interface SettledRuling {
  readonly decision: Decision;
  readonly account: Account;
  readonly statements: readonly string[];
}

/** Nothing was ruled. */
export const UNRULED: RulingState = { state: 'none', publisher: null, printer: null };

/**
 * Where the sides stand on each finding of a part on which anything was ruled, against one dummy: with another one
 * everything is looked at again.
 */
export async function rulingStates(
  tables: Tables,
  partId: string,
  dummyId: string,
): Promise<ReadonlyMap<string, RulingState>> {
  const part = await tables.titles.part(partId);
  const title = part && (await tables.titles.get(part.titleId));
  if (title === null) return new Map();
  return statesOf(
    title,
    (await tables.statements.rulingsOfPart(partId)).filter((one) => one.dummyId === dummyId),
  );
}

/** The settled ones of `rulingStates`, by finding; of the dummy in force, where no other is named. */
export async function settledRulings(
  tables: Tables,
  partId: string,
  dummyId?: string,
): Promise<ReadonlyMap<string, SettledRuling>> {
  const dummy = dummyId ?? inForce(await partLife(tables, partId))?.dummyId;
  const states: ReadonlyMap<string, RulingState> =
    dummy === undefined ? new Map<string, RulingState>() : await rulingStates(tables, partId, dummy);
  return new Map(
    [...states].flatMap(([id, state]) => {
      const settled = settledOf(state);
      return settled === null ? [] : [[id, settled] as const];
    }),
  );
}

/** What both sides say, or null where they do not. */
export function settledOf({ state, publisher, printer }: RulingState): SettledRuling | null {
  if (state !== 'settled' || publisher === null || printer === null) return null;
  const { decision, account } = publisher;
  return { decision, account, statements: [publisher.statementId, printer.statementId] };
}

/** Where the sides of a title stand, by finding; rulings in the order of the log. */
export function statesOf(
  title: Pick<Title, 'publisherId' | 'printerId'>,
  rulings: readonly RulingMade[],
): ReadonlyMap<string, RulingState> {
  const words = new Map<string, Readonly<Record<Party, Word | null>>>();
  for (const { findingId, partyId, decision, account, statementId, atMs } of rulings) {
    const word = { decision, account, statementId, atMs };
    const before = words.get(findingId) ?? { publisher: null, printer: null };
    if (partyId === title.publisherId) words.set(findingId, { ...before, publisher: word });
    else if (partyId === title.printerId) words.set(findingId, { ...before, printer: word });
  }
  return new Map([...words].map(([id, word]) => [id, { ...word, state: standOf(word.publisher, word.printer) }]));
}

function standOf(one: Word | null, other: Word | null): RulingState['state'] {
  if (one === null || other === null) return one === other ? 'none' : 'one-side';
  return one.decision === other.decision && one.account === other.account ? 'settled' : 'conflicting';
}
