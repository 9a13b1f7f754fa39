import type { SaidFolding } from '../../model/index.ts';
import type { Access } from './access.ts';
import { numberIn, textIn } from './row.ts';
import { saidIn } from './said-folding.ts';

/** How sheets fold, as it was said again after they were sent. */
export interface FoldingSaidAgain {
  readonly fileId: string;
  /** From 1; 0 is what was said as they were sent, or nothing. */
  readonly number: number;
  readonly folding: SaidFolding;
  readonly personId: string;
  readonly atMs: number;
}

/** That somebody held a plan that was found from the sheets against their own. */
export interface ConfirmedFolding {
  /** The report that was made by that plan. */
  readonly reportId: string;
  readonly personId: string;
  readonly atMs: number;
}

/** What is said of foldings after sheets were sent. */
export interface Foldings {
  sayAgain(said: Omit<FoldingSaidAgain, 'number'> & { readonly partId: string }): Promise<FoldingSaidAgain>;
  /** The first one first. */
  saidAgain(fileId: string): Promise<readonly FoldingSaidAgain[]>;
  /** Confirmed again, the first one stays. */
  confirm(confirmed: ConfirmedFolding): Promise<ConfirmedFolding>;
  /** Null where nobody confirmed the plan of a report. */
  confirmedIn(reportId: string): Promise<ConfirmedFolding | null>;
}

/** The tables of them. */
export function foldingsIn(access: Access): Foldings {
  return {
    sayAgain: ({ partId, folding, ...told }) =>
      access.write((database) => {
        const { fileId } = told;
        const next = 'SELECT 1 + coalesce(max(number), 0) AS number FROM folding_said_again WHERE file_id = :fileId';
        const number = numberIn(database.one(next, { fileId }) ?? {}, 'number');
        database.run(
          `INSERT INTO folding_said_again (file_id, number, part_id, plan_blob, fold, bound, working, person_id, at_ms)
           VALUES (:fileId, :number, :partId, :plan, :fold, :bound, :working, :personId, :atMs)`,
          { plan: null, fold: null, bound: null, working: null, ...folding, ...told, partId, number },
        );
        return { ...told, folding, number };
      }),
    saidAgain: (fileId) =>
      access.read((database) =>
        database
          .all('SELECT * FROM folding_said_again WHERE file_id = :fileId ORDER BY number', { fileId })
          .map((row) => ({
            fileId,
            number: numberIn(row, 'number'),
            folding: saidIn(row),
            personId: textIn(row, 'person_id'),
            atMs: numberIn(row, 'at_ms'),
          })),
      ),
    confirm: (confirmed) =>
      access.write((database) => {
        const before = database.one('SELECT * FROM folding_confirmed WHERE report_id = :reportId', {
          reportId: confirmed.reportId,
        });
        if (before !== null) {
          const { reportId } = confirmed;
          return { reportId, personId: textIn(before, 'person_id'), atMs: numberIn(before, 'at_ms') };
        }
        database.run(
          'INSERT INTO folding_confirmed (report_id, person_id, at_ms) VALUES (:reportId, :personId, :atMs)',
          { ...confirmed },
        );
        return confirmed;
      }),
    confirmedIn: (reportId) =>
      access.read((database) => {
        const row = database.one('SELECT * FROM folding_confirmed WHERE report_id = :reportId', { reportId });
        return row && { reportId, personId: textIn(row, 'person_id'), atMs: numberIn(row, 'at_ms') };
      }),
  };
}
