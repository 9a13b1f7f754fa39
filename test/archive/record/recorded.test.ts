import { describe, expect, it } from 'vitest';
import { examineLog, headOf, openArchive, proveEntry, proveHistory, recorded } from '../../../src/archive/index.ts';
import type { Archive, EntryToRecord } from '../../../src/archive/index.ts';
import {
  checkHistory,
  hashLeaf,
  meetArchive,
  openCheckpoint,
  parseVerifierKey,
  verifyInclusion,
} from '../../../src/ledger/index.ts';
import { parseLogEntry, Refusal } from '../../../src/model/index.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { scratchFolder } from '../scratch.ts';
import { AT, twoParties } from '../two-parties.ts';

const exported = (id: string): EntryToRecord => ({
  kind: 'export',
  titleId: null,
  by: null,
  subjects: [{ what: 'pack', id, sha256: null }],
});

/** Whether an entry is proved to a head of the archive, from the entry's own bytes. */
async function isProved({ catalogue, identity }: Archive, index: number, size?: number): Promise<boolean> {
  const { bytes, proof, head } = await proveEntry(catalogue, index, size);
  const opened = await openCheckpoint(head.note, parseVerifierKey(identity.verifierKey));
  if (!opened.holds) return false;
  return verifyInclusion({ leaf: hashLeaf(bytes), index, proof, ...opened.checkpoint }) === 'holds';
}

describe('what is recorded', () => {
  it('K15 is there with its entry and a signed head over it, or not at all', async () => {
    const archive = await openArchive(scratchFolder(), AT);
    const { catalogue } = archive;
    await recorded(archive, AT, async (tables, log) => {
      await tables.parties.add({ name: 'Blattwerk', at: AT });
      return [await log(exported('one')), await log(exported('two'))];
    }).then((indices) => expect(indices).toEqual([1, 2]));
    expect((await headOf(catalogue, archive.identity)).size).toBe(3);
    const failing = recorded(archive, AT, async (tables, log) => {
      await tables.parties.add({ name: 'Studio', at: AT });
      await log(exported('three'));
      throw new Refusal('not-found', { what: 'anything' });
    });
    expect(await laterRefusalOf(failing)).toEqual({ kind: 'not-found', what: 'anything' });
    expect((await catalogue.parties.list()).map(({ name }) => name)).toEqual(['Blattwerk']);
    expect(await catalogue.log.size()).toBe(3);
    expect(await examineLog(catalogue)).toEqual({ entries: 3, heads: 2, statements: 0, faults: [] });
    archive.close();
  });

  it('makes no new head where there is nothing to record', async () => {
    const archive = await openArchive(scratchFolder(), AT);
    await recorded(archive, AT, async (tables) => tables.parties.add({ name: 'Blattwerk', at: AT }));
    expect(await catalogueHeads(archive)).toEqual([1]);
    archive.close();
  });

  it('is salted, so that the same said twice has two hashes', async () => {
    const archive = await openArchive(scratchFolder(), AT);
    for (let time = 0; time < 2; time++) await recorded(archive, AT, (_tables, log) => log(exported('one')));
    const [, one, other] = await archive.catalogue.log.entries({ from: 0, most: 9 });
    const said = [one!, other!].map(({ bytes }) => parseLogEntry(bytes));
    expect({ ...said[0], salt: '' }).toEqual({ ...said[1], salt: '' });
    expect(said[0]!.salt).not.toBe(said[1]!.salt);
    expect(Buffer.from(one!.leafHash).equals(other!.leafHash)).toBe(false);
    archive.close();
  });

  it('says what the actor is to the title: a side, a guest, or a member of a party where there is no title', async () => {
    const { archive, publisher, printer, title } = await twoParties();
    const { catalogue } = archive;
    const guest = await catalogue.people.add({
      partyId: (await catalogue.parties.add({ name: 'Studio', at: AT })).id,
      name: 'Cleo',
      rights: ['look'],
      byPersonId: publisher.actor.personId,
      at: AT,
    });
    const actor = { personId: guest.id, partyId: guest.partyId };
    await catalogue.sight.give({
      titleId: title.id,
      partyId: guest.partyId,
      byPersonId: printer.actor.personId,
      at: AT,
    });
    const index = await recorded(archive, AT, async (_tables, log) => {
      const first = await log({ ...exported('one'), titleId: title.id, by: publisher.actor });
      await log({ ...exported('two'), titleId: title.id, by: printer.actor });
      await log({ ...exported('three'), titleId: title.id, by: actor });
      await log({ ...exported('four'), by: actor });
      return first;
    });
    const entries = await catalogue.log.entries({ from: index, most: 4 });
    expect(entries.map(({ bytes }) => parseLogEntry(bytes).by)).toEqual([
      { party: 'publisher', person: publisher.actor.personId },
      { party: 'printer', person: printer.actor.personId },
      { party: 'guest', person: actor.personId },
      { party: 'member', person: actor.personId },
    ]);
    archive.close();
  });

  it('of many at once follows one after the other, each proved to every later head', async () => {
    const archive = await openArchive(scratchFolder(), AT);
    const many = Array.from({ length: 24 }, (_, at) => recorded(archive, AT, (_tables, log) => log(exported(`${at}`))));
    expect((await Promise.all(many)).sort((one, other) => one - other)).toEqual(many.map((_one, at) => at + 1));
    expect((await examineLog(archive.catalogue)).faults).toEqual([]);
    for (const [index, size] of [
      [0, 1],
      [0, 25],
      [11, 12],
      [11, 20],
      [24, undefined],
    ] as const) {
      expect(await isProved(archive, index, size)).toBe(true);
    }
    archive.close();
  });

  it('continues every head that somebody remembers', async () => {
    const archive = await openArchive(scratchFolder(), AT);
    const { catalogue, identity } = archive;
    const remembered = (await meetArchive(identity.verifierKey, (await headOf(catalogue, identity)).note))!;
    for (let time = 0; time < 6; time++) await recorded(archive, AT, (_tables, log) => log(exported(`${time}`)));
    expect((await checkHistory(remembered, await proveHistory(catalogue, 1))).standing).toEqual({
      kind: 'grown',
      by: 6,
    });
    expect((await checkHistory(remembered, await proveHistory(catalogue, 1, 4))).standing).toEqual({
      kind: 'grown',
      by: 3,
    });
    archive.close();
  });

  it('is proved to heads that there are, and only entries that there are', async () => {
    const archive = await openArchive(scratchFolder(), AT);
    const entry = { kind: 'not-found', what: 'entry' };
    expect(await laterRefusalOf(proveEntry(archive.catalogue, 1))).toEqual(entry);
    expect(await laterRefusalOf(proveEntry(archive.catalogue, -1))).toEqual(entry);
    const head = { kind: 'not-found', what: 'head' };
    expect(await laterRefusalOf(proveEntry(archive.catalogue, 0, 7))).toEqual(head);
    expect(await laterRefusalOf(proveHistory(archive.catalogue, 1, 7))).toEqual(head);
    archive.close();
  });
});

async function catalogueHeads({ catalogue }: Archive): Promise<readonly number[]> {
  const sizes = Array.from({ length: 5 }, (_, size) => size + 1);
  const heads = await Promise.all(sizes.map((size) => catalogue.log.checkpoint(size)));
  return heads.flatMap((head) => (head === null ? [] : [head.size]));
}
