import type { Access } from './access.ts';
import { textIn, textOrNullIn } from './row.ts';

/** The book that imposed sheets fold to; both it and the plan are blobs. */
export interface FoldedBook {
  readonly fileId: string;
  /** Whose pages were looked for on the sheets. */
  readonly dummyId: string;
  /** Of the folded book, a file of its own that was read like any. */
  readonly sha256: string;
  /** Of the plan, as `witnessleaf-plan/1`. */
  readonly plan: string;
  /** Of the sides with all their inks, where they came as plates; null where the file has them as its pages. */
  readonly sides: string | null;
}

/** What became of imposed sheets. */
export interface FoldedBooks {
  /** For each dummy once; told again, the first one stays. */
  add(folded: FoldedBook & { readonly at: number }): Promise<void>;
  /**
   * The one made last; null for a file that was not taken apart.
   *
   * @param dummyId  of those that look like this dummy
   */
  ofFile(fileId: string, dummyId?: string): Promise<FoldedBook | null>;
}

/** The table of folded books. */
export function foldedBooksIn(access: Access): FoldedBooks {
  return {
    add: (folded) =>
      access.write(
        (database) =>
          void database.run(
            `INSERT INTO folded_book (file_id, dummy_id, blob, plan_blob, sides_blob, at_ms)
             SELECT :fileId, :dummyId, :sha256, :plan, :sides, :at WHERE NOT EXISTS
               (SELECT 1 FROM folded_book WHERE file_id = :fileId AND dummy_id = :dummyId)`,
            { ...folded },
          ),
      ),
    ofFile: (fileId, dummyId) =>
      access.read((database) => {
        const row = database.one(
          `SELECT * FROM folded_book WHERE file_id = :fileId AND dummy_id = coalesce(:dummyId, dummy_id)
           ORDER BY seq DESC LIMIT 1`,
          { fileId, dummyId: dummyId ?? null },
        );
        if (row === null) return null;
        return {
          fileId,
          dummyId: textIn(row, 'dummy_id'),
          sha256: textIn(row, 'blob'),
          plan: textIn(row, 'plan_blob'),
          sides: textOrNullIn(row, 'sides_blob'),
        };
      }),
  };
}
