import { Refusal } from '../../model/index.ts';
import type { Ruling, Tables } from '../catalogue/index.ts';

/**
 * Requires that whoever rules has seen their own side's last word on each finding, by the head of the log that their
 * statement names: of two people of a side who rule at once, the second does not unsay what they never read. Another
 * side's word needs no such care, since both stand next to each other.
 *
 * @param own  the part, the signer's side, and how many entries of the log they had seen
 * @throws {Refusal} out-of-step: the side has ruled since
 */
export async function requireOwnWordSeen(
  { statements }: Pick<Tables, 'statements'>,
  own: { readonly partId: string; readonly partyId: string; readonly headSize: number },
  rulings: readonly Ruling[],
): Promise<void> {
  const ruledOn = new Set(rulings.map(({ findingId }) => findingId));
  const before = (await statements.rulingsOfPart(own.partId)).filter(
    ({ partyId, findingId }) => partyId === own.partyId && ruledOn.has(findingId),
  );
  const last = before.at(-1);
  const entry = last === undefined ? -1 : ((await statements.get(last.statementId))?.logIndex ?? -1);
  if (entry < own.headSize) return;
  throw new Refusal('out-of-step', {
    what: 'your side’s word on a finding',
    named: `that of entry ${own.headSize - 1} or before`,
    current: `another one since, entry ${entry}`,
  });
}
