import { AsyncLocalStorage } from 'node:async_hooks';
import { Refusal } from '../../model/index.ts';
import type { Tables } from '../catalogue/index.ts';
import type { Archive } from '../open-archive.ts';
import { recorded, type EntryToRecord } from './recorded.ts';

/**
 * The same archive, which records it in the log where bytes that are read turn out to be others than their name says:
 * for each title that has the file, once in the life of a process. Whoever reads is refused as before, and does not wait
 * for the entry.
 *
 * @param now  milliseconds since 1970
 * @param onTrouble  told where the entry itself could not be made
 */
export function noticingDamage(archive: Archive, now: () => number, onTrouble: (error: unknown) => void): Archive {
  const { blobs } = archive;
  const noticed = new Set<string>();
  // Whoever reads may be within a transaction; the entry is in one of its own.
  const outside = AsyncLocalStorage.snapshot();
  const notice = (sha256: string, error: unknown): void => {
    if (noticed.has(sha256) || !isDamage(error, sha256)) return;
    noticed.add(sha256);
    outside(() => recordDamage(archive, sha256, error.message, now())).catch(onTrouble);
  };
  return {
    ...archive,
    blobs: {
      ...blobs,
      async *read(sha256) {
        try {
          yield* blobs.read(sha256);
        } catch (error) {
          notice(sha256, error);
          throw error;
        }
      },
      async lend(sha256, use) {
        try {
          return await blobs.lend(sha256, use);
        } catch (error) {
          notice(sha256, error);
          throw error;
        }
      },
    },
  };
}

/** A file that is no PDF is unreadable too; damage names the blob. */
function isDamage(error: unknown, sha256: string): error is Refusal<'unreadable'> {
  if (!(error instanceof Refusal) || error.kind !== 'unreadable') return false;
  return (error as Refusal<'unreadable'>).details.file === `blob ${sha256}`;
}

async function recordDamage(archive: Archive, sha256: string, remark: string, at: number): Promise<void> {
  await recorded(archive, at, async (tables, log) => {
    for (const about of await whatIsDamaged(tables, sha256)) {
      await log({ kind: 'failed-verification', by: null, remark, ...about });
    }
  });
}

/** The file in each title that has it; what is no file of a title, as a report or a picture, by its name alone. */
async function whatIsDamaged(
  tables: Tables,
  sha256: string,
): Promise<readonly Pick<EntryToRecord, 'titleId' | 'subjects'>[]> {
  const inTitles = new Map<string, Pick<EntryToRecord, 'titleId' | 'subjects'>>();
  for (const { id, partId } of await tables.files.withBlob(sha256)) {
    const titleId = (await tables.titles.part(partId))?.titleId;
    if (titleId === undefined || inTitles.has(titleId)) continue;
    inTitles.set(titleId, { titleId, subjects: [{ what: 'file', id, sha256 }] });
  }
  if (inTitles.size > 0) return [...inTitles.values()];
  return [{ titleId: null, subjects: [{ what: 'blob', id: sha256, sha256 }] }];
}
