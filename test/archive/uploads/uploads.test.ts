import { appendFileSync, readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  archivePaths,
  bringInParty,
  openArchive,
  openPart,
  openTitle,
  openUploads,
  type Actor,
  type Archive,
  type GrowingUploads,
} from '../../../src/archive/index.ts';
import { pieces, sha256Of } from '../blobs/streams.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { scratchFolder } from '../scratch.ts';

const AT = Date.parse('2031-03-02T09:00:00Z');
const TOLD = { kind: 'revision', name: 'Buch.pdf', remark: '', replaces: null, sha256: null } as const;

/** One life of a program on the archive in a folder: what a kill would leave is what is on disk when it ends. */
async function inOneLife<T>(
  folder: string,
  work: (uploads: GrowingUploads, archive: Archive) => Promise<T>,
): Promise<T> {
  const archive = await openArchive(folder, AT);
  const order = { archive, folder: archivePaths(folder).uploads, mostBytes: 1e6, now: () => AT };
  return work(await openUploads(order), archive).finally(() => archive.close());
}

/** Somebody who may send files of a part. */
async function newDesk(folder: string): Promise<{ readonly ada: Actor; readonly partId: string }> {
  return inOneLife(folder, async (_uploads, archive) => {
    const printer = await bringInParty(archive, null, { party: 'Offizin', person: 'Ada' }, AT);
    const ada = { personId: printer.person.id, partyId: printer.party.id };
    const publisher = await bringInParty(archive, ada, { party: 'Verlag', person: 'Bruno' }, AT);
    const sides = { publisherId: publisher.party.id, printerId: ada.partyId };
    const title = await openTitle(archive, ada, { name: 'Buch', ...sides }, AT);
    return { ada, partId: (await openPart(archive, ada, { titleId: title.id, kind: 'book-block' }, AT)).id };
  });
}

describe('an upload', () => {
  it('K19 goes on at the byte that was acknowledged last, whatever a kill left behind it', async () => {
    const folder = scratchFolder();
    const { ada, partId } = await newDesk(folder);
    const { id } = await inOneLife(folder, async (uploads) => {
      const begun = await uploads.begin(ada, partId, TOLD, 12);
      return uploads.append(ada, begun.id, 0, pieces('Blatt'));
    });
    appendFileSync(join(archivePaths(folder).uploads, id), 'never acknowledged');
    await inOneLife(folder, async (uploads, archive) => {
      expect(await uploads.look(ada, id)).toMatchObject({ state: 'arriving', arrived: 5 });
      expect(await laterRefusalOf(uploads.append(ada, id, 7, pieces('Blatt')))).toMatchObject({ kind: 'out-of-step' });
      expect(await uploads.append(ada, id, 5, pieces(' für ', 'B'))).toMatchObject({ state: 'received', arrived: 12 });
      const { fileId } = await uploads.look(ada, id);
      expect((await archive.catalogue.files.get(fileId ?? ''))?.sha256).toBe(sha256Of('Blatt für B'));
    });
  });

  it.each(['noted as whole yet', 'kept as a blob yet', 'noted as a file yet'])(
    'K20 that is whole at a kill, but not %s, becomes a file at the next start, and only one',
    async (step) => {
      const folder = scratchFolder();
      const { ada, partId } = await newDesk(folder);
      const sha256 = sha256Of('Blatt');
      const id = await inOneLife(folder, async (uploads, { catalogue, blobs }) => {
        const begun = await uploads.begin(ada, partId, TOLD, 5);
        appendFileSync(join(archivePaths(folder).uploads, begun.id), 'Blatt');
        await catalogue.uploads.arrived(begun.id, 5, AT);
        if (step === 'noted as whole yet') return begun.id;
        await catalogue.uploads.whole(begun.id, sha256, AT);
        if (step === 'noted as a file yet') await blobs.adopt(join(archivePaths(folder).uploads, begun.id), sha256);
        return begun.id;
      });
      for (const _life of ['the next', 'the one after']) {
        await inOneLife(folder, async (uploads, { catalogue }) => {
          const files = await catalogue.files.ofPart(partId);
          expect(files.map((file) => file.sha256)).toEqual([sha256]);
          expect(await uploads.look(ada, id)).toMatchObject({ state: 'received', fileId: files[0]?.id });
        });
      }
      expect(readdirSync(archivePaths(folder).uploads)).toEqual([]);
    },
  );

  it('whose bytes are gone, as in an archive that was restored, is not taken for a file', async () => {
    const folder = scratchFolder();
    const { ada, partId } = await newDesk(folder);
    const [half, unnoted, whole] = await inOneLife(folder, async (uploads, { catalogue }) => {
      const [one, other] = [await uploads.begin(ada, partId, TOLD, 5), await uploads.begin(ada, partId, TOLD, 0)];
      const [third, fourth] = [await uploads.begin(ada, partId, TOLD, 5), await uploads.begin(ada, partId, TOLD, 5)];
      await uploads.append(ada, one.id, 0, pieces('Bl'));
      expect(other.state).toBe('received');
      await catalogue.uploads.arrived(third.id, 5, AT);
      await catalogue.uploads.whole(third.id, sha256Of('Blatt'), AT);
      await catalogue.uploads.arrived(fourth.id, 5, AT);
      return [one.id, fourth.id, third.id];
    });
    rmSync(archivePaths(folder).uploads, { recursive: true });
    await inOneLife(folder, async (uploads) => {
      for (const id of [half, unnoted]) expect((await uploads.look(ada, id ?? '')).state).toBe('given-up');
      expect(await uploads.look(ada, whole ?? '')).toMatchObject({
        state: 'refused',
        cause: 'the file’s bytes: not found',
      });
    });
  });
});
