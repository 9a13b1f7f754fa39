import { Refusal } from '../../model/index.ts';
import { wholeList, type ArchiveClient } from './ask-server.ts';
import type { ClientOption, Given } from './client-command.ts';
import type { FileToSend } from './upload-file.ts';

/** A file as the archive lists it. */
export interface ListedFile {
  readonly id: string;
  readonly kind: FileToSend['kind'];
  readonly name: string;
  readonly sha256: string;
  /** What statements name it by: for pages laid over another file, not the hash of the file that was sent. */
  readonly signedAs: string | null;
}

/** Which file of a part. */
export const FILE_OPTION: ClientOption = {
  takes: 'ID',
  says: 'the file, by its id or its SHA-256; the latest of its kind without it',
};

/**
 * The file of a part that was named, or the latest of a kind.
 *
 * @throws {Refusal} not-found: there is none
 */
export async function findFile(
  client: ArchiveClient,
  { given, partId, kind }: { readonly given: Given; readonly partId: string; readonly kind?: FileToSend['kind'] },
): Promise<ListedFile> {
  const files = await wholeList<ListedFile>(client, `/api/parts/${partId}/files`);
  const named = given.text('file');
  const found = files.findLast((file) =>
    named === null ? kind === undefined || file.kind === kind : file.id === named || file.sha256 === named,
  );
  if (found === undefined) throw new Refusal('not-found', { what: named ?? kind ?? 'a file' });
  return found;
}
