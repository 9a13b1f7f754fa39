import type { Weight } from '../../model/index.ts';
import type { Access } from './access.ts';
import { newId } from './new-id.ts';
import type { Row } from './row.ts';
import { numberIn, numberOrNullIn, textIn, wordIn } from './row.ts';

/** One difference of a part from its dummy, the same one in every file in which it appears. */
export interface KeptFinding {
  readonly id: string;
  readonly partId: string;
  /** SHA-256 of what makes it this one: kind, dummy page, place, what is there now. */
  readonly identity: string;
  readonly kind: string;
  readonly dummyPage: number | null;
  readonly atMs: number;
}

/** A finding as it stands in one report. */
export interface ReportedFinding {
  readonly finding: KeptFinding;
  /** Its id within the report. */
  readonly mark: string;
  readonly weight: Weight;
}

/** Findings, and the reports that have them. */
export interface Findings {
  /**
   * Notes a finding of a report. One that was seen before, in an earlier file, is found again by its identity; told again
   * of the same report, nothing changes.
   */
  note(given: {
    readonly partId: string;
    readonly reportId: string;
    readonly identity: string;
    readonly kind: string;
    readonly dummyPage: number | null;
    readonly mark: string;
    readonly weight: Weight;
    readonly at: number;
  }): Promise<KeptFinding>;
  get(id: string): Promise<KeptFinding | null>;
  inReport(reportId: string): Promise<readonly ReportedFinding[]>;
  /** Ids of the files in which it appears, in their order of arrival: the first one introduced it. */
  filesWith(findingId: string): Promise<readonly string[]>;
}

const WEIGHTS: readonly Weight[] = ['stop', 'look', 'note'];

/** The tables of findings and of their places in reports. */
export function findingsIn(access: Access): Findings {
  return {
    note: ({ partId, reportId, identity, kind, dummyPage, mark, weight, at }) =>
      access.write((database) => {
        const known = database.one('SELECT * FROM finding WHERE part_id = :partId AND identity = :identity', {
          partId,
          identity,
        });
        const fresh = { id: newId(), partId, identity, kind, dummyPage, atMs: at };
        if (known === null) {
          database.run(
            `INSERT INTO finding (id, part_id, identity, kind, dummy_page, at_ms)
             VALUES (:id, :partId, :identity, :kind, :dummyPage, :atMs)`,
            fresh,
          );
        }
        const finding = known === null ? fresh : findingOf(known);
        database.run(
          `INSERT INTO finding_in_report (part_id, report_id, finding_id, mark, weight)
           SELECT :partId, :reportId, :findingId, :mark, :weight WHERE NOT EXISTS
             (SELECT 1 FROM finding_in_report WHERE report_id = :reportId AND finding_id = :findingId)`,
          { partId, reportId, findingId: finding.id, mark, weight },
        );
        return finding;
      }),
    get: (id) =>
      access.read((database) => {
        const row = database.one('SELECT * FROM finding WHERE id = :id', { id });
        return row && findingOf(row);
      }),
    inReport: (reportId) =>
      access.read((database) =>
        database
          .all(
            `SELECT finding.*, mark, weight FROM finding_in_report JOIN finding ON finding.id = finding_id
             WHERE report_id = :reportId ORDER BY finding_in_report.rowid`,
            { reportId },
          )
          .map((row) => ({
            finding: findingOf(row),
            mark: textIn(row, 'mark'),
            weight: wordIn(row, 'weight', WEIGHTS),
          })),
      ),
    filesWith: (findingId) =>
      access.read((database) =>
        database
          .all(
            `SELECT DISTINCT file.id, file.position FROM finding_in_report
               JOIN report ON report.id = report_id JOIN file ON file.id = file_id
             WHERE finding_id = :findingId ORDER BY file.position`,
            { findingId },
          )
          .map((row) => textIn(row, 'id')),
      ),
  };
}

function findingOf(row: Row): KeptFinding {
  return {
    id: textIn(row, 'id'),
    partId: textIn(row, 'part_id'),
    identity: textIn(row, 'identity'),
    kind: textIn(row, 'kind'),
    dummyPage: numberOrNullIn(row, 'dummy_page'),
    atMs: numberIn(row, 'at_ms'),
  };
}
