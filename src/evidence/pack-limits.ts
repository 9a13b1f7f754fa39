import { Refusal } from '../model/index.ts';

/** What a pack from a stranger may ask of the machine. */
export const PACK_LIMITS = {
  members: 200_000,
  /** Of one member: a file that was sent may have 4 GiB. */
  memberBytes: 4 * 2 ** 30,
  /** Of all together. */
  bytes: 256 * 2 ** 30,
  /** Of a member that is read as a whole. */
  readBytes: 64_000_000,
  /** Bytes of a member over the bytes that it has in the ZIP; DEFLATE reaches about 1030. */
  expansion: 200,
  nameLength: 200,
  /**
   * Tenths of the edition of the format that a member may need: 4.5, the first with ZIP64.
   *
   * @source PKWARE, APPNOTE 6.3.10 (2022), 4.4.3: nothing more is needed for members stored or deflated
   */
  zipEdition: 45,
};

/** A member's size as whoever lists it knows it. */
export interface ListedMember {
  readonly name: string;
  readonly bytes: number;
}

/**
 * Refuses names that could lead out of a folder or be taken for another, and packs that are too large.
 *
 * @throws {Refusal} malformed: such a name, or one twice
 * @throws {Refusal} too-large: over a limit
 */
export function requireMembers(members: readonly ListedMember[], limits = PACK_LIMITS): void {
  requireAtMost('members of a pack', members.length, limits.members, 'members');
  const seen = new Set<string>();
  let bytes = 0;
  for (const member of members) {
    const { name } = member;
    const isPlain = name.length <= limits.nameLength && /^[A-Za-z0-9._-]+(\/[A-Za-z0-9._-]+)*$/.test(name);
    if (!isPlain || name.split('/').some((piece) => /^\.+$/.test(piece))) {
      throw new Refusal('malformed', { pointer: 'pack', expected: 'plain names of members', found: name.slice(0, 80) });
    }
    // On some machines two names that differ in capitals are one file.
    const folded = name.toLowerCase();
    if (seen.has(folded)) {
      throw new Refusal('malformed', { pointer: 'pack', expected: 'each name once', found: `${name} twice` });
    }
    seen.add(folded);
    requireAtMost(name, member.bytes, limits.memberBytes, 'bytes');
    bytes += member.bytes;
  }
  requireAtMost('a pack', bytes, limits.bytes, 'bytes');
}

/** @throws {Refusal} too-large: more than the limit */
export function requireAtMost(what: string, found: number, limit: number, unit: string): void {
  if (found > limit) throw new Refusal('too-large', { what, limit, found, unit });
}
