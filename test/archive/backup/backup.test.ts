import { chmodSync, existsSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  archivePaths,
  backUpArchive,
  bringInParty,
  headOf,
  isSound,
  openArchive,
  openTitle,
  openUploads,
  proveHistory,
  scrubArchive,
} from '../../../src/archive/index.ts';
import type { Actor, Archive } from '../../../src/archive/index.ts';
import { blobsIn } from '../../../src/archive/blobs/index.ts';
import { readCatalogue } from '../../../src/archive/catalogue/index.ts';
import { checkHistory } from '../../../src/ledger/index.ts';
import type { KeptHead } from '../../../src/ledger/index.ts';
import { pieces, sha256Of } from '../blobs/streams.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { program } from '../program.ts';
import { scratchFolder } from '../scratch.ts';

const SENDER = new URL('./sender.ts', import.meta.url);
const AT = Date.parse('2031-03-02T09:00:00Z');

/** An archive with these blobs. */
async function archiveWith(...texts: readonly string[]): Promise<string> {
  const folder = scratchFolder();
  const archive = await openArchive(folder, AT);
  await keep(archive, ...texts);
  archive.close();
  return folder;
}

async function keep({ blobs, catalogue }: Archive, ...texts: readonly string[]): Promise<void> {
  for (const text of texts) await catalogue.blobs.add({ ...(await blobs.put(pieces(text))), at: AT });
}

/** The latest head, as a client of the archive remembers it. */
async function seenHead(folder: string): Promise<KeptHead> {
  const catalogue = readCatalogue(archivePaths(folder).catalogue);
  const [identity, head] = [await catalogue.identity.get(), await catalogue.log.latestCheckpoint()];
  catalogue.close();
  return { verifierKey: identity?.verifierKey ?? '', note: head?.note ?? '' };
}

async function standingOf(kept: KeptHead, { catalogue }: Archive): Promise<unknown> {
  const size = Number(kept.note.split('\n')[1]);
  return (await checkHistory(kept, await proveHistory(catalogue, size))).standing.kind;
}

describe('a backup', () => {
  it('K18 that is made while files come in has every one acknowledged before, and goes on as the archive did', async () => {
    const [folder, copy] = [scratchFolder(), join(scratchFolder(), 'copy')];
    const sender = await program(SENDER, folder);
    const [partId = '', uploadId = '', personId = '', partyId = ''] = (await sender.hear()).split(' ');
    const acknowledged = [await sender.hear(), await sender.hear(), await sender.hear()];
    const seen = await seenHead(folder);
    const first = await backUpArchive({ folder, copy, at: AT });
    const later = [await sender.hear(), await sender.hear()];
    const second = await backUpArchive({ folder, copy, at: AT });
    await sender.kill('SIGKILL');
    // Blobs that the first had are not copied again; what came since is.
    expect(first).toMatchObject({ there: 0, damaged: [] });
    expect(second).toMatchObject({ there: first.copied, damaged: [] });
    expect(second.copied).toBeGreaterThan(0);

    expect(isSound(await scrubArchive(copy))).toBe(true);
    const restored = await openArchive(copy, Date.now());
    const files = await restored.catalogue.files.ofPart(partId);
    expect(files.map(({ id }) => id)).toEqual(expect.arrayContaining([...acknowledged, ...later]));
    expect(await standingOf(seen, restored)).toBe('grown');
    const ada: Actor = { personId, partyId };
    const sides = { publisherId: partyId, printerId: (await restored.catalogue.parties.list()).at(-1)?.id ?? '' };
    const size = await restored.catalogue.log.size();
    await openTitle(restored, ada, { name: 'Das nächste Buch', ...sides }, Date.now());
    expect((await headOf(restored.catalogue, restored.identity)).size).toBe(size + 1);
    expect(await standingOf(seen, restored)).toBe('grown');
    // Its bytes were on their way: who sent them begins anew.
    const uploads = { archive: restored, folder: archivePaths(copy).uploads, mostBytes: 1e6, now: () => Date.now() };
    expect((await (await openUploads(uploads)).look(ada, uploadId)).state).toBe('given-up');
    restored.close();
  });

  it('has the keys of the archive, for its owner’s eyes only, and no blob that nobody counts on', async () => {
    const folder = await archiveWith('one', 'two');
    const loose = await blobsIn(archivePaths(folder).blobs).put(pieces('three'));
    const copy = scratchFolder();
    await backUpArchive({ folder, copy, at: AT });
    const keys = join(archivePaths(copy).keys, 'archive-keys.json');
    expect(readFileSync(keys)).toEqual(readFileSync(join(archivePaths(folder).keys, 'archive-keys.json')));
    expect(statSync(keys).mode & 0o777).toBe(0o600);
    expect(await blobsIn(archivePaths(copy).blobs).sizeOf(loose.sha256)).toBe(null);
    expect(readdirSync(copy).sort()).toEqual(['blobs', 'catalogue.sqlite', 'keys', 'service.lock']);
  });

  it('says which blobs are damaged or gone, and copies the others', async () => {
    const folder = await archiveWith('one', 'two', 'three');
    const pathOf = (text: string): string =>
      join(archivePaths(folder).blobs, sha256Of(text).slice(0, 2), sha256Of(text));
    chmodSync(pathOf('one'), 0o644);
    writeFileSync(pathOf('one'), 'onf');
    rmSync(pathOf('two'));
    const copy = scratchFolder();
    const { copied, damaged } = await backUpArchive({ folder, copy, at: AT });
    expect(copied).toBe(1);
    expect([...damaged].sort((a, b) => a.reason.localeCompare(b.reason))).toEqual([
      { sha256: sha256Of('two'), reason: 'it is missing' },
      { sha256: sha256Of('one'), reason: `its bytes have the SHA-256 ${sha256Of('onf')}` },
    ]);
    expect((await scrubArchive(copy)).missing).toEqual([sha256Of('one'), sha256Of('two')].sort());
  });

  it('does not take the place of another archive’s, nor of a later state', async () => {
    const [folder, other] = [await archiveWith('one'), await archiveWith('two')];
    const copy = scratchFolder();
    await backUpArchive({ folder, copy, at: AT });
    const refused = {
      kind: 'unproven',
      what: `${archivePaths(copy).catalogue}, to be an earlier state of this archive`,
    };
    expect(await laterRefusalOf(backUpArchive({ folder: other, copy, at: AT }))).toMatchObject(refused);
    const later = await openArchive(copy, AT);
    const printer = await bringInParty(later, null, { party: 'Offizin', person: 'Ada' }, AT);
    const ada = { personId: printer.person.id, partyId: printer.party.id };
    const publisher = await bringInParty(later, ada, { party: 'Verlag', person: 'Bruno' }, AT);
    await openTitle(later, ada, { name: 'Buch', publisherId: publisher.party.id, printerId: ada.partyId }, AT);
    const entries = await later.catalogue.log.size();
    later.close();
    expect(await laterRefusalOf(backUpArchive({ folder, copy, at: AT }))).toMatchObject({
      ...refused,
      checks: [{ name: 'log', found: 'none of that size' }],
    });
    expect(await backUpArchive({ folder: copy, copy: folder, at: AT })).toMatchObject({ there: 1, entries });
  });

  it('leaves the last one as it was where it cannot come to its end', async () => {
    const folder = await archiveWith('one');
    const copy = scratchFolder();
    await backUpArchive({ folder, copy, at: AT });
    const before = readFileSync(archivePaths(copy).catalogue);
    const archive = await openArchive(folder, AT);
    await keep(archive, 'two');
    archive.close();
    rmSync(archivePaths(folder).keys, { recursive: true });
    expect(await laterRefusalOf(backUpArchive({ folder, copy, at: AT }))).toMatchObject({
      kind: 'unavailable',
      what: 'the keys of the archive',
    });
    expect(readFileSync(archivePaths(copy).catalogue)).toEqual(before);
    expect(isSound(await scrubArchive(copy))).toBe(true);
  });

  it('lies apart from its archive, and is not written while it is in use', async () => {
    const folder = await archiveWith('one');
    for (const copy of [folder, join(folder, 'copy'), join(folder, '..')]) {
      expect(await laterRefusalOf(backUpArchive({ folder, copy, at: AT }))).toMatchObject({
        kind: 'malformed',
        pointer: copy,
      });
    }
    expect(existsSync(join(folder, 'copy'))).toBe(false);
    const copy = scratchFolder();
    await program(new URL('../holder.ts', import.meta.url), copy);
    expect(await laterRefusalOf(backUpArchive({ folder, copy, at: AT }))).toMatchObject({
      kind: 'unavailable',
      what: copy,
    });
  });
});
