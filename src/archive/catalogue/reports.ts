import type { Access } from './access.ts';
import { newId } from './new-id.ts';
import type { Row } from './row.ts';
import { numberIn, textIn, wordIn } from './row.ts';

/** What comparing a file with a dummy said; the report itself is a blob. */
export interface KeptReport {
  readonly id: string;
  readonly partId: string;
  readonly dummyId: string;
  readonly fileId: string;
  /** SHA-256 of all that it depends on beside the two files. */
  readonly terms: string;
  /** Of sheets, by which folding: as `SentFile.foldingNumber`; 0 of other files. */
  readonly folding: number;
  readonly verdict: 'match' | 'differs';
  readonly sha256: string;
  readonly atMs: number;
}

/** Every report that was made. */
export interface Reports {
  /** Under the same terms there is one report on the same two files: the first one, which is given back. */
  add(
    report: Omit<KeptReport, 'id' | 'atMs' | 'folding'> & { readonly folding?: number; readonly at: number },
  ): Promise<KeptReport>;
  get(id: string): Promise<KeptReport | null>;
  /** On a file, the oldest first. */
  onFile(fileId: string): Promise<readonly KeptReport[]>;
  /** Of whatever was compared with a dummy, the oldest report first. */
  onDummy(dummyId: string): Promise<readonly KeptReport[]>;
}

/** The table of reports. */
export function reportsIn(access: Access): Reports {
  return {
    add: ({ at, ...told }) =>
      access.write((database) => {
        const { dummyId, fileId, terms } = told;
        const known = database.one(
          'SELECT * FROM report WHERE dummy_id = :dummyId AND file_id = :fileId AND terms = :terms',
          { dummyId, fileId, terms },
        );
        if (known !== null) return reportOf(known);
        const report = { folding: 0, ...told, id: newId(), atMs: at };
        database.run(
          `INSERT INTO report (id, part_id, dummy_id, file_id, terms, folding, verdict, blob, at_ms)
           VALUES (:id, :partId, :dummyId, :fileId, :terms, :folding, :verdict, :sha256, :atMs)`,
          report,
        );
        return report;
      }),
    get: (id) =>
      access.read((database) => {
        const row = database.one('SELECT * FROM report WHERE id = :id', { id });
        return row && reportOf(row);
      }),
    onFile: (fileId) =>
      access.read((database) =>
        database.all('SELECT * FROM report WHERE file_id = :fileId ORDER BY rowid', { fileId }).map(reportOf),
      ),
    onDummy: (dummyId) =>
      access.read((database) =>
        database.all('SELECT * FROM report WHERE dummy_id = :dummyId ORDER BY rowid', { dummyId }).map(reportOf),
      ),
  };
}

function reportOf(row: Row): KeptReport {
  return {
    id: textIn(row, 'id'),
    partId: textIn(row, 'part_id'),
    dummyId: textIn(row, 'dummy_id'),
    fileId: textIn(row, 'file_id'),
    terms: textIn(row, 'terms'),
    folding: numberIn(row, 'folding'),
    verdict: wordIn(row, 'verdict', ['match', 'differs']),
    sha256: textIn(row, 'blob'),
    atMs: numberIn(row, 'at_ms'),
  };
}
