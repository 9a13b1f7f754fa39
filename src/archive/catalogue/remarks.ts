import type { Access } from './access.ts';
import type { Row } from './row.ts';
import { numberIn, textIn } from './row.ts';

/** What somebody said about a finding. It binds nobody: what binds is signed. */
export interface KeptRemark {
  /** Of its entry in the log. */
  readonly logIndex: number;
  readonly findingId: string;
  readonly personId: string;
  readonly text: string;
  readonly atMs: number;
}

/** Conversations about findings. Nothing is taken back; a correction is another remark. */
export interface Remarks {
  add(remark: KeptRemark): Promise<void>;
  /** In the order in which they were said. */
  onFinding(findingId: string): Promise<readonly KeptRemark[]>;
  /** How many there are, by finding, of the findings of a part that have any. */
  countsOfPart(partId: string): Promise<ReadonlyMap<string, number>>;
}

/** The table of remarks. */
export function remarksIn(access: Access): Remarks {
  return {
    add: (remark) =>
      access.write(
        (database) =>
          void database.run(
            `INSERT INTO finding_remark (log_index, finding_id, person_id, text, at_ms)
             VALUES (:logIndex, :findingId, :personId, :text, :atMs)`,
            { ...remark },
          ),
      ),
    onFinding: (findingId) =>
      access.read((database) =>
        database
          .all('SELECT * FROM finding_remark WHERE finding_id = :findingId ORDER BY log_index', { findingId })
          .map(remarkOf),
      ),
    countsOfPart: (partId) =>
      access.read(
        (database) =>
          new Map(
            database
              .all(
                `SELECT finding_id, count(*) AS remarks FROM finding_remark JOIN finding ON finding.id = finding_id
                 WHERE part_id = :partId GROUP BY finding_id`,
                { partId },
              )
              .map((row) => [textIn(row, 'finding_id'), numberIn(row, 'remarks')]),
          ),
      ),
  };
}

function remarkOf(row: Row): KeptRemark {
  return {
    logIndex: numberIn(row, 'log_index'),
    findingId: textIn(row, 'finding_id'),
    personId: textIn(row, 'person_id'),
    text: textIn(row, 'text'),
    atMs: numberIn(row, 'at_ms'),
  };
}
