import { cpSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { examineLog, headOf, openArchive, proveEntry, proveHistory } from '../../../src/archive/index.ts';
import type { Archive, SignedHead } from '../../../src/archive/index.ts';
import { openDatabase, type Database } from '../../../src/archive/catalogue/database.ts';
import {
  appendLeaf,
  checkHistory,
  EMPTY_FRONTIER,
  hashLeaf,
  openCheckpoint,
  parseVerifierKey,
  rootOfFrontier,
  signCheckpoint,
  verifyInclusion,
} from '../../../src/ledger/index.ts';
import { formatLogEntry, parseLogEntry } from '../../../src/model/index.ts';
import { scratchFolder } from '../scratch.ts';
import { AT, dummyInForce, stateIt, twoParties, type TwoParties } from '../two-parties.ts';

const REWRITTEN = 8;

let opened: Archive[] = [];
afterEach(() => {
  opened.forEach((archive) => archive.close());
  opened = [];
});

/** A book whose dummy is in force, and what a client remembers of its log. */
async function bookWithMemory(): Promise<{ sides: TwoParties; head: SignedHead }> {
  const sides = await twoParties();
  await dummyInForce(sides);
  opened.push(sides.archive);
  return { sides, head: await headOf(sides.archive.catalogue, sides.archive.identity) };
}

/** What somebody with the database in their hands does first. */
function unguarded(folder: string): Database {
  const database = openDatabase(`${folder}/catalogue.sqlite`, { readOnly: false });
  for (const table of ['log_entry', 'log_node', 'checkpoint', 'statement']) {
    database.exec(`DROP TRIGGER ${table}_is_not_altered`);
  }
  return database;
}

/** Another entry in the place of one: somebody else did it. */
async function rewriteEntry(database: Database, archive: Archive): Promise<Uint8Array> {
  const { bytes } = (await archive.catalogue.log.entry(REWRITTEN))!;
  const forged = formatLogEntry({ ...parseLogEntry(bytes), at: '2026-11-20T09:00:00.000Z' });
  database.run('UPDATE log_entry SET bytes = :forged, leaf_hash = :leaf WHERE log_index = :index', {
    forged,
    leaf: hashLeaf(forged),
    index: REWRITTEN,
  });
  return forged;
}

describe('an entry that was rewritten in the database by hand', () => {
  it('is noticed by whoever is shown it with its proof', async () => {
    const { sides, head } = await bookWithMemory();
    const { archive, folder } = sides;
    const database = unguarded(folder);
    await rewriteEntry(database, archive);
    database.close();
    const { bytes, proof } = await proveEntry(archive.catalogue, REWRITTEN);
    const seen = await openCheckpoint(head.note, parseVerifierKey(head.verifierKey));
    if (!seen.holds) throw new Error('the head is not signed');
    const { size, root } = seen.checkpoint;
    expect(verifyInclusion({ leaf: hashLeaf(bytes), index: REWRITTEN, size, root, proof })).toBe('other-root');
    expect((await examineLog(archive.catalogue)).faults).toContain('hash 8 of level 0 is another');
  });

  it('is noticed by a client that kept a head, even where tree and heads were made anew with the archive’s own key', async () => {
    const { sides, head } = await bookWithMemory();
    const { archive, folder, printer } = sides;
    const database = unguarded(folder);
    await rewriteEntry(database, archive);
    await makeTreeAnew(database, archive);
    database.close();
    // Whoever holds the key can make every hash and head fit, but not sign for the parties, who named heads of before.
    expect((await examineLog(archive.catalogue)).faults).toEqual(
      [9, 10, 11, 12].map((entry) => `head ${entry}, which the statement of entry ${entry} names, is none of this log`),
    );
    const again = await openArchive(folder, AT);
    opened.push(again);
    const kept = { verifierKey: head.verifierKey, note: head.note };
    const shownAtOnce = await checkHistory(kept, await proveHistory(again.catalogue, head.size));
    expect(shownAtOnce.standing).toMatchObject({ kind: 'split', how: 'rewritten' });
    // Nor does it help to go on with the log.
    await stateIt(again, printer, {
      kind: 'revocation',
      titleId: sides.title.id,
      certificate: printer.certificate,
      reason: 'The computer was stolen.',
    });
    const shownLater = await checkHistory(kept, await proveHistory(again.catalogue, head.size));
    expect(shownLater.standing).toMatchObject({ kind: 'split', how: 'rewritten' });
    expect(shownLater.keep).toEqual(kept);
  });

  it('cannot be taken out: a log that lost its last entries has nothing to show for what a client remembers', async () => {
    const sides = await twoParties();
    const { archive, folder } = sides;
    opened.push(archive);
    const elsewhere = scratchFolder();
    await archive.catalogue.backUp(join(elsewhere, 'catalogue.sqlite'));
    await dummyInForce(sides);
    const { verifierKey, note, size } = await headOf(archive.catalogue, archive.identity);
    cpSync(join(folder, 'keys'), join(elsewhere, 'keys'), { recursive: true });
    const earlier = await openArchive(elsewhere, AT);
    opened.push(earlier);
    const answer = await checkHistory({ verifierKey, note }, await proveHistory(earlier.catalogue, size));
    expect(answer.standing).toMatchObject({ kind: 'split', how: 'shrunk' });
  });

  it('or a statement that was exchanged, is found when the log is examined', async () => {
    const { sides } = await bookWithMemory();
    const { archive, folder, title } = sides;
    const statements = await archive.catalogue.statements.ofTitle(title.id);
    const { id, logIndex } = statements.at(-1)!;
    const database = unguarded(folder);
    database.run('UPDATE statement SET signature = :signature WHERE id = :id', { id, signature: Uint8Array.of(1) });
    database.close();
    expect((await examineLog(archive.catalogue)).faults).toEqual([`the statement of entry ${logIndex} is another`]);
  });
});

/** All hashes, roots and heads once more, as if the forged entry had always been there. */
async function makeTreeAnew(database: Database, { catalogue, identity }: Archive): Promise<void> {
  const { origin, signer } = identity;
  let frontier = EMPTY_FRONTIER;
  for (const { bytes } of await catalogue.log.entries({ from: 0, most: 1000 })) {
    const grown = appendLeaf(frontier, hashLeaf(bytes));
    frontier = grown.frontier;
    for (const { level, index, hash } of grown.whole) {
      const place = { level, index, hash };
      database.run('UPDATE log_node SET hash = :hash WHERE level = :level AND position = :index', place);
    }
    const [size, root] = [frontier.size, rootOfFrontier(frontier)];
    const note = await signCheckpoint({ origin, size, root }, signer);
    database.run('UPDATE checkpoint SET root_hash = :root, note = :note WHERE tree_size = :size', { size, root, note });
  }
}
