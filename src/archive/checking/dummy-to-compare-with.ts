import type { SentFile, Tables } from '../catalogue/index.ts';
import { inForce } from '../statements/part-life.ts';
import { partLife } from '../statements/part-state.ts';

/**
 * The dummy that later files of a part are held against: the one in force, else the latest that was read and not
 * withdrawn, so that one that cannot be read holds up nobody.
 */
export async function dummyToCompareWith(tables: Tables, partId: string): Promise<SentFile | null> {
  const life = await partLife(tables, partId);
  const contract = inForce(life)?.dummyId;
  if (contract !== undefined) return tables.files.get(contract);
  for (const file of (await tables.files.ofPart(partId)).toReversed()) {
    const isDummy = file.kind === 'dummy' && !life.withdrawn.has(file.id);
    if (isDummy && (await tables.pages.ofBlob(file.sha256)) !== null) return file;
  }
  return null;
}
