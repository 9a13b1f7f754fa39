import type { Access } from './access.ts';
import type { Database } from './database.ts';
import { newId } from './new-id.ts';
import type { Row } from './row.ts';
import { numberIn, numberOrNullIn, textIn, textOrNullIn, wordIn } from './row.ts';
import { addFolding, foldingOf } from './said-folding.ts';
import type { SaidFolding } from '../../model/index.ts';

/** What a file is sent as. */
export type FileKind = 'dummy' | 'revision' | 'plates-input';
const FILE_KINDS: readonly FileKind[] = ['dummy', 'revision', 'plates-input'];

/** Pages from 1, both ends included. */
export interface PageRange {
  readonly first: number;
  readonly last: number;
}

/** A file of a part, as it was sent. */
export interface SentFile {
  readonly id: string;
  readonly partId: string;
  /** In order of arrival within the part, from 1. */
  readonly position: number;
  readonly kind: FileKind;
  /** Of a revision, from 1; null for other kinds. */
  readonly revisionNumber: number | null;
  /** As the sender's machine called it. */
  readonly name: string;
  readonly remark: string;
  /** Where only some pages were sent: the file whose pages they replace, and which. */
  readonly replaces: { readonly fileId: string; readonly pages: readonly PageRange[] } | null;
  /** Of sheets: how they fold, where the sender said so, or somebody after them. */
  readonly folding: SaidFolding | null;
  /** How often that was said again after they were sent. */
  readonly foldingNumber: number;
  readonly senderId: string;
  readonly sha256: string;
  readonly atMs: number;
}

/** What a sender says of a file; its blob is known already. */
export interface FileToAdd {
  readonly partId: string;
  readonly kind: FileKind;
  readonly name: string;
  readonly remark: string;
  readonly replaces: SentFile['replaces'];
  /** Nothing is said where absent. */
  readonly folding?: SaidFolding | null;
  readonly senderId: string;
  readonly sha256: string;
  readonly at: number;
}

/** Every file that was sent, in order. */
export interface Files {
  add(file: FileToAdd): Promise<SentFile>;
  get(id: string): Promise<SentFile | null>;
  /** All of a part, in order of arrival. */
  ofPart(partId: string): Promise<readonly SentFile[]>;
  /** Wherever these bytes were sent. */
  withBlob(sha256: string): Promise<readonly SentFile[]>;
  /** Parts into which anything was sent. */
  parts(): Promise<readonly string[]>;
}

const NEXT = `SELECT 1 + coalesce(max(position), 0) AS position, 1 + coalesce(max(revision_number), 0) AS revision
  FROM file WHERE part_id = :partId`;

/** The tables of files and of the pages they replace. */
export function filesIn(access: Access): Files {
  return {
    add: (file) => access.write((database) => addFile(database, file)),
    get: (id) =>
      access.read((database) => {
        const row = database.one('SELECT * FROM file WHERE id = :id', { id });
        return row && fileOf(database, row);
      }),
    ofPart: (partId) =>
      access.read((database) =>
        database
          .all('SELECT * FROM file WHERE part_id = :partId ORDER BY position', { partId })
          .map((row) => fileOf(database, row)),
      ),
    withBlob: (sha256) =>
      access.read((database) =>
        database
          .all('SELECT * FROM file WHERE blob = :sha256 ORDER BY rowid', { sha256 })
          .map((row) => fileOf(database, row)),
      ),
    parts: () =>
      access.read((database) =>
        database.all('SELECT DISTINCT part_id FROM file ORDER BY part_id').map((row) => textIn(row, 'part_id')),
      ),
  };
}

function addFile(database: Database, file: FileToAdd): SentFile {
  const { replaces, folding = null, at, ...told } = file;
  const next = database.one(NEXT, { partId: file.partId }) ?? {};
  const position = numberIn(next, 'position');
  const revisionNumber = file.kind === 'revision' ? numberIn(next, 'revision') : null;
  const id = newId();
  database.run(
    `INSERT INTO file (id, part_id, position, kind, revision_number, name, remark, laid_over_id, sender_id, blob, at_ms)
     VALUES (:id, :partId, :position, :kind, :revisionNumber, :name, :remark, :laidOver, :senderId, :sha256, :at)`,
    { ...told, id, position, revisionNumber, laidOver: replaces?.fileId ?? null, at },
  );
  for (const { first, last } of replaces?.pages ?? []) {
    database.run('INSERT INTO replaced_pages (file_id, first_page, last_page) VALUES (:id, :first, :last)', {
      id,
      first,
      last,
    });
  }
  if (folding !== null) addFolding(database, { fileId: id, partId: file.partId }, folding);
  return { ...told, replaces, folding, foldingNumber: 0, id, position, revisionNumber, atMs: at };
}

function fileOf(database: Database, row: Row): SentFile {
  const id = textIn(row, 'id');
  const laidOver = textOrNullIn(row, 'laid_over_id');
  const pages = database.all('SELECT * FROM replaced_pages WHERE file_id = :id ORDER BY first_page', { id });
  return {
    id,
    partId: textIn(row, 'part_id'),
    position: numberIn(row, 'position'),
    kind: wordIn(row, 'kind', FILE_KINDS),
    revisionNumber: numberOrNullIn(row, 'revision_number'),
    name: textIn(row, 'name'),
    remark: textIn(row, 'remark'),
    replaces: laidOver === null ? null : { fileId: laidOver, pages: pages.map(rangeOf) },
    ...foldingOf(database, id),
    senderId: textIn(row, 'sender_id'),
    sha256: textIn(row, 'blob'),
    atMs: numberIn(row, 'at_ms'),
  };
}

function rangeOf(row: Row): PageRange {
  return { first: numberIn(row, 'first_page'), last: numberIn(row, 'last_page') };
}
