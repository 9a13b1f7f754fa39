import type { SaidFolding } from '../../model/index.ts';
import type { Actor } from '../actor.ts';
import type { SentFile, ToldOfUpload } from '../catalogue/index.ts';
import { receiveFile } from '../files/receive-file.ts';
import type { Archive } from '../open-archive.ts';
import { requireFolding } from '../sheets/require-folding.ts';
import { requirePart } from '../standing.ts';

/**
 * Takes a file that comes in one stream, hashed while it arrives. Sent again exactly as the last file of the part was,
 * by the same person, it is that file: whoever heard no answer may ask again.
 *
 * @throws {Refusal} too-large: more than `mostBytes`
 * @throws {Refusal} unreadable: not the bytes whose hash was announced
 * @throws {Refusal} as `requirePart`, `requireFolding` and `receiveFile`
 */
export async function sendAtOnce(
  archive: Pick<Archive, 'blobs' | 'catalogue' | 'identity'>,
  actor: Actor,
  partId: string,
  told: ToldOfUpload,
  stream: AsyncIterable<Uint8Array>,
  { mostBytes, now }: { readonly mostBytes: number; readonly now: () => number },
): Promise<{ readonly file: SentFile; readonly isNew: boolean }> {
  await requirePart(archive.catalogue, actor, partId, 'send-files');
  const { kind, name, remark, replaces, folding = null } = told;
  await requireFolding(archive.catalogue, { partId, kind, folding }, replaces === null);
  const terms = told.sha256 === null ? { mostBytes } : { mostBytes, sha256: told.sha256 };
  const { sha256 } = await archive.blobs.put(stream, terms);
  const last = (await archive.catalogue.files.ofPart(partId)).at(-1);
  if (last !== undefined && isSame(last, actor, told, sha256)) return { file: last, isNew: false };
  const given = { partId, kind, name, remark, replaces, folding, sha256 };
  return { file: await receiveFile(archive, actor, given, now()), isNew: true };
}

function isSame(last: SentFile, { personId }: Actor, told: ToldOfUpload, sha256: string): boolean {
  const words = (one: Told, pages: unknown): string =>
    JSON.stringify([one.kind, one.name.trim(), one.remark.trim(), pages, foldingWords(one.folding ?? null)]);
  const isAlike = words(last, last.replaces?.pages ?? null) === words(told, told.replaces);
  return isAlike && last.senderId === personId && last.sha256 === sha256;
}

type Told = Pick<ToldOfUpload, 'kind' | 'name' | 'remark' | 'folding'>;

function foldingWords(folding: SaidFolding | null): readonly string[] {
  if (folding === null) return [];
  return 'plan' in folding ? [folding.plan] : [folding.fold, folding.bound, folding.working];
}
