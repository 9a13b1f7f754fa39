import type { Access } from './access.ts';
import { numberIn, textIn, textOrNullIn } from './row.ts';

/** The book that imposed sheets fold to; both it and the plan are blobs. */
export interface FoldedBook {
  readonly fileId: string;
  /** Whose pages were looked for on the sheets. */
  readonly dummyId: string;
  /** By which folding: as `SentFile.foldingNumber`. */
  readonly folding: number;
  /** Of the folded book, a file of its own that was read like any. */
  readonly sha256: string;
  /** Of the plan, as `witnessleaf-plan/1`. */
  readonly plan: string;
  /** Of the sides with all their inks, where they came as plates; null where the file has them as its pages. */
  readonly sides: string | null;
}

/** As which one of the books that sheets were folded to. */
export type FoldedAs = Pick<FoldedBook, 'dummyId'> & Partial<Pick<FoldedBook, 'folding'>>;

/** What became of imposed sheets. */
export interface FoldedBooks {
  /** For each dummy and folding once; told again, the first one stays. */
  add(folded: Omit<FoldedBook, 'folding'> & FoldedAs & { readonly at: number }): Promise<void>;
  /**
   * The one made last, by the folding that was said last; null for a file that was not taken apart.
   *
   * @param as  of those that look like this dummy and are folded so
   */
  ofFile(fileId: string, as?: FoldedAs): Promise<FoldedBook | null>;
}

/** The table of folded books. */
export function foldedBooksIn(access: Access): FoldedBooks {
  return {
    add: (folded) =>
      access.write(
        (database) =>
          void database.run(
            `INSERT INTO folded_book (file_id, dummy_id, folding, blob, plan_blob, sides_blob, at_ms)
             SELECT :fileId, :dummyId, :folding, :sha256, :plan, :sides, :at WHERE NOT EXISTS
               (SELECT 1 FROM folded_book WHERE file_id = :fileId AND dummy_id = :dummyId AND folding = :folding)`,
            { folding: 0, ...folded },
          ),
      ),
    ofFile: (fileId, as) =>
      access.read((database) => {
        const row = database.one(
          `SELECT * FROM folded_book WHERE file_id = :fileId AND dummy_id = coalesce(:dummyId, dummy_id)
             AND folding = coalesce(:folding, folding)
           ORDER BY folding DESC, seq DESC LIMIT 1`,
          { fileId, dummyId: as?.dummyId ?? null, folding: as?.folding ?? null },
        );
        if (row === null) return null;
        return {
          fileId,
          dummyId: textIn(row, 'dummy_id'),
          folding: numberIn(row, 'folding'),
          sha256: textIn(row, 'blob'),
          plan: textIn(row, 'plan_blob'),
          sides: textOrNullIn(row, 'sides_blob'),
        };
      }),
  };
}
