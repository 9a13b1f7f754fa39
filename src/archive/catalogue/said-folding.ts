import type { SaidFolding } from '../../model/index.ts';
import { BINDINGS, WORKINGS } from '../../model/index.ts';
import type { Database } from './database.ts';
import type { Row } from './row.ts';
import { numberIn, textIn, textOrNullIn, wordIn } from './row.ts';

/** Notes how a file is said to fold, in the transaction that adds it. */
export function addFolding(
  database: Database,
  { fileId, partId }: { readonly fileId: string; readonly partId: string },
  folding: SaidFolding,
): void {
  database.run(
    `INSERT INTO said_folding (file_id, part_id, plan_blob, fold, bound, working)
     VALUES (:fileId, :partId, :plan, :fold, :bound, :working)`,
    { plan: null, fold: null, bound: null, working: null, ...folding, fileId, partId },
  );
}

/** How a file is said to fold, by what was said last, and how often it was said again; null where nothing was said. */
export function foldingOf(
  database: Database,
  fileId: string,
): { readonly folding: SaidFolding | null; readonly foldingNumber: number } {
  const row = database.one(
    `SELECT 0 AS number, plan_blob, fold, bound, working FROM said_folding WHERE file_id = :fileId
     UNION ALL SELECT number, plan_blob, fold, bound, working FROM folding_said_again WHERE file_id = :fileId
     ORDER BY number DESC LIMIT 1`,
    { fileId },
  );
  return row === null
    ? { folding: null, foldingNumber: 0 }
    : { folding: saidIn(row), foldingNumber: numberIn(row, 'number') };
}

/** A row’s plan or folds. */
export function saidIn(row: Row): SaidFolding {
  const plan = textOrNullIn(row, 'plan_blob');
  if (plan !== null) return { plan };
  return {
    fold: textIn(row, 'fold'),
    bound: wordIn(row, 'bound', BINDINGS),
    working: wordIn(row, 'working', WORKINGS),
  };
}
