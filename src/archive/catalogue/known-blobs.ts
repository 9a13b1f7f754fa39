import type { Access } from './access.ts';
import { numberIn, textIn } from './row.ts';

/** A blob that the catalogue counts on. */
export interface KnownBlob {
  readonly sha256: string;
  readonly bytes: number;
}

/** What the catalogue knows to be in the blobs. */
export interface KnownBlobs {
  /** To be called when the blob is on disk; knows it once, however often it is told. */
  add(blob: KnownBlob & { readonly at: number }): Promise<void>;
  get(sha256: string): Promise<KnownBlob | null>;
  /** By name, a piece at a time: those after `after`. */
  list(page: { readonly after: string; readonly most: number }): Promise<readonly KnownBlob[]>;
}

/** The table of blobs. */
export function knownBlobsIn(access: Access): KnownBlobs {
  return {
    add: ({ sha256, bytes, at }) =>
      access.write(
        (database) =>
          void database.run(
            `INSERT INTO blob (sha256, bytes, at_ms) SELECT :sha256, :bytes, :at
             WHERE NOT EXISTS (SELECT 1 FROM blob WHERE sha256 = :sha256)`,
            { sha256, bytes, at },
          ),
      ),
    get: (sha256) =>
      access.read((database) => {
        const row = database.one('SELECT bytes FROM blob WHERE sha256 = :sha256', { sha256 });
        return row && { sha256, bytes: numberIn(row, 'bytes') };
      }),
    list: ({ after, most }) =>
      access.read((database) =>
        database
          .all('SELECT sha256, bytes FROM blob WHERE sha256 > :after ORDER BY sha256 LIMIT :most', { after, most })
          .map((row) => ({ sha256: textIn(row, 'sha256'), bytes: numberIn(row, 'bytes') })),
      ),
  };
}
