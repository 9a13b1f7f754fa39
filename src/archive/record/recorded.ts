import { randomBytes } from 'node:crypto';
import { appendLeaf, frontierAt, hashLeaf, rootOfFrontier, signCheckpoint } from '../../ledger/index.ts';
import type { Frontier, KeptHashes } from '../../ledger/index.ts';
import { formatLogEntry, type LogActor, type LogEntryKind, type LogSubject } from '../../model/index.ts';
import type { Actor } from '../actor.ts';
import type { Catalogue, Tables } from '../catalogue/index.ts';
import type { ArchiveIdentity } from '../identity/open-identity.ts';

/** What is to be recorded in the log; the archive adds the time, the salt and what the actor is to the title. */
export interface EntryToRecord {
  readonly kind: LogEntryKind;
  /** Null: about no title. */
  readonly titleId: string | null;
  /** Null: the archive itself. */
  readonly by: Actor | null;
  readonly subjects: readonly LogSubject[];
  readonly remark?: string;
}

/** What recording needs of an archive. */
export interface Recording {
  readonly catalogue: Pick<Catalogue, 'together'>;
  readonly identity: ArchiveIdentity;
}

/**
 * Does something and records it: all that `work` writes, the entries of the log and the head over them, signed by the
 * archive, are one transaction. Where nothing is recorded, there is no new head.
 *
 * @param at  milliseconds since 1970
 * @param work  `log` gives the entry's index; one entry after the other
 * @throws {Refusal} malformed: an entry does not have its form
 * @throws {Refusal} unreadable: hashes of the log are missing
 */
export async function recorded<T>(
  { catalogue, identity }: Recording,
  at: number,
  work: (tables: Tables, log: (entry: EntryToRecord) => Promise<number>) => Promise<T>,
): Promise<T> {
  return catalogue.together(async (tables) => {
    let frontier: Frontier | null = null;
    const result = await work(tables, async (entry) => {
      const before: Frontier = frontier ?? (await frontierAt(hashesOf(tables), await tables.log.size()));
      const bytes = await bytesOf(tables, entry, at);
      const leafHash = hashLeaf(bytes);
      const grown = appendLeaf(before, leafHash);
      const { kind, titleId } = entry;
      await tables.log.append(
        { index: before.size, kind, titleId, bytes, leafHash, atMs: at },
        grown.whole.map(({ level, index, hash }) => ({ level, position: index, hash })),
      );
      frontier = grown.frontier;
      return before.size;
    });
    if (frontier !== null) await addHead(tables, identity, frontier, at);
    return result;
  });
}

/** The hashes of the log's tree, as they are kept. */
export function hashesOf(tables: Pick<Tables, 'log'>): KeptHashes {
  return { hashOf: (level, index) => tables.log.node(level, index) };
}

async function addHead(
  tables: Tables,
  { origin, signer }: ArchiveIdentity,
  frontier: Frontier,
  at: number,
): Promise<void> {
  const { size } = frontier;
  const rootHash = rootOfFrontier(frontier);
  const note = await signCheckpoint({ origin, size, root: rootHash }, signer);
  await tables.log.addCheckpoint({ size, rootHash, note, atMs: at });
}

async function bytesOf(tables: Tables, entry: EntryToRecord, at: number): Promise<Uint8Array> {
  const { kind, titleId, by, subjects, remark = '' } = entry;
  return formatLogEntry({
    format: 'witnessleaf-entry/1',
    kind,
    title: titleId,
    at: new Date(at).toISOString(),
    by: await actorOf(tables, titleId, by),
    remark,
    salt: randomBytes(16).toString('hex'),
    subjects,
  });
}

async function actorOf(tables: Tables, titleId: string | null, by: Actor | null): Promise<LogActor> {
  if (by === null) return { party: 'archive', person: null };
  const standing = titleId === null ? null : await tables.sight.standing(titleId, by.partyId);
  const party = standing === 'sight' ? 'guest' : (standing ?? 'member');
  return { party, person: by.personId };
}
