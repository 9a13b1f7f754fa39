import type { Tables, TimeStamp } from '../../archive/index.ts';
import { checkTimeStamp, formatPem, sha256 } from '../../sealing/index.ts';
import { memberOf, type Member } from './member.ts';
import { inName, type PackFacts } from '../../evidence/index.ts';

/** Time-stamps as members of a pack, and the heads that they stamp. */
export interface Stamped {
  readonly members: readonly Member[];
  readonly facts: PackFacts['timeStamps'];
  /** Signed notes by the log's size. */
  readonly heads: ReadonlyMap<number, string>;
}

/**
 * For each entry that a party signed, and for the newest head, the earliest time-stamp that covers it: with these, nobody
 * can say that it was written later.
 *
 * @param covered  sizes of the log that must be covered
 * @param authorities  certificates in DER that the operator trusts
 */
export async function stampMembers(
  tables: Pick<Tables, 'timeStamps' | 'log'>,
  covered: readonly number[],
  authorities: readonly Uint8Array[],
): Promise<Stamped> {
  const heads = new Map<number, string>();
  const members: Member[] = [];
  const facts: PackFacts['timeStamps'][number][] = [];
  for (const size of await sizesHeld(tables, covered)) {
    const head = await tables.log.checkpoint(size);
    if (head === null) continue;
    heads.set(size, head.note);
    for (const [index, stamp] of (await tables.timeStamps.ofHead(size)).entries()) {
      if (stamp.state !== 'held') continue;
      const name = `time-stamps/${inName(size)}-${index + 1}`;
      members.push(memberOf(`${name}.tst`, stamp.token));
      const authority = await authorityOf(stamp, head.note, authorities);
      if (authority !== null) members.push(memberOf(`${name}.pem`, formatPem('CERTIFICATE', authority)));
      const heldAt = new Date(stamp.heldMs).toISOString();
      facts.push({ size, authority: stamp.authority, heldAt, member: `${name}.tst` });
    }
  }
  return { members, facts, heads };
}

async function sizesHeld(tables: Pick<Tables, 'timeStamps'>, covered: readonly number[]): Promise<readonly number[]> {
  const sizes = new Set<number>();
  for (const size of covered) {
    const held = await tables.timeStamps.firstCovering(size);
    if (held !== null) sizes.add(held.size);
  }
  return [...sizes].sort((one, other) => one - other);
}

/** The certificate, of those that the operator trusts, on which the token rests. */
async function authorityOf(
  stamp: Extract<TimeStamp, { state: 'held' }>,
  note: string,
  authorities: readonly Uint8Array[],
): Promise<Uint8Array | null> {
  const hash = await sha256(new TextEncoder().encode(note));
  for (const authority of authorities) {
    const { checks } = await checkTimeStamp({ token: stamp.token, hash, trusted: [authority] });
    if (checks.some(({ name, outcome }) => name === 'authority-trusted' && outcome === 'holds')) return authority;
  }
  return null;
}
