import type { SaidFolding } from '../../model/index.ts';
import { BINDINGS, WORKINGS } from '../../model/index.ts';
import type { Database } from './database.ts';
import type { Row } from './row.ts';
import { textIn, textOrNullIn, wordIn } from './row.ts';

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

/** How a file is said to fold; null where nothing was said. */
export function foldingOf(database: Database, fileId: string): SaidFolding | null {
  const row = database.one('SELECT plan_blob, fold, bound, working FROM said_folding WHERE file_id = :fileId', {
    fileId,
  });
  return row && saidIn(row);
}

function saidIn(row: Row): SaidFolding {
  const plan = textOrNullIn(row, 'plan_blob');
  if (plan !== null) return { plan };
  return {
    fold: textIn(row, 'fold'),
    bound: wordIn(row, 'bound', BINDINGS),
    working: wordIn(row, 'working', WORKINGS),
  };
}
