import { rm } from 'node:fs/promises';
import { Refusal } from '../../model/index.ts';
import type { RefusalKind } from '../../model/index.ts';
import type { Upload } from '../catalogue/index.ts';
import { receiveFile } from '../files/receive-file.ts';
import type { Archive } from '../open-archive.ts';
import { isFile } from './is-file.ts';

/** What is not the upload's own fault and may be over at the next try. */
const PASSING: readonly RefusalKind[] = ['unavailable'];

/**
 * Makes a file of an upload that is whole. Each step can be done again: after a kill this goes on where it stopped, and
 * the file is received once, because that is noted in the transaction in which it is received.
 *
 * @throws {Refusal} unreadable: not the bytes whose hash was announced
 * @throws {Refusal} as `receiveFile`; the upload is refused then, but for what may pass
 */
export async function finishUpload(
  archive: Pick<Archive, 'blobs' | 'catalogue' | 'identity'>,
  upload: Upload,
  path: string,
  at: number,
): Promise<Upload> {
  const { id, personId, partId, told, sha256 } = upload;
  const { blobs, catalogue } = archive;
  if (sha256 === null) throw new Error('an upload is finished that is not whole');
  try {
    if (told.sha256 !== null && told.sha256 !== sha256) {
      throw new Refusal('unreadable', {
        file: told.name,
        reason: `its bytes have the SHA-256 ${sha256}, not ${told.sha256}: it changed on the way`,
      });
    }
    // Not there: a kill came after it was adopted, or the archive was restored from a copy; then it is refused below.
    if (await isFile(path)) await blobs.adopt(path, sha256);
    const { partyId } = (await catalogue.people.get(personId)) ?? { partyId: '' };
    const { kind, name, remark, replaces, folding = null } = told;
    const file = await receiveFile(
      archive,
      { personId, partyId },
      { partId, kind, name, remark, replaces, folding, sha256 },
      at,
      (tables, received) => tables.uploads.received(id, received.id, at),
    );
    return { ...upload, state: 'received', fileId: file.id };
  } catch (error) {
    if (error instanceof Refusal && !PASSING.includes((error as Refusal).kind)) {
      await catalogue.uploads.refuse(id, (error as Refusal).message, at);
      await rm(path, { force: true });
    }
    throw error;
  }
}
