import type { Access } from './access.ts';
import type { FileKind, PageRange } from './files.ts';
import { newId } from './new-id.ts';
import type { Row } from './row.ts';
import { numberIn, textIn, textOrNullIn, wordIn } from './row.ts';
import type { SaidFolding } from '../../model/index.ts';

/** Where an upload stands. `whole`: every byte is on disk and hashed; `received`: it is a file of its part. */
export type UploadState = 'arriving' | 'whole' | 'received' | 'refused' | 'given-up';
const STATES: readonly UploadState[] = ['arriving', 'whole', 'received', 'refused', 'given-up'];

/** What a sender says of a file before its bytes. */
export interface ToldOfUpload {
  readonly kind: FileKind;
  readonly name: string;
  readonly remark: string;
  readonly replaces: readonly PageRange[] | null;
  /** How sheets fold, where that is said. */
  readonly folding?: SaidFolding | null;
  /** The hash that the bytes will have, where the sender knows it. */
  readonly sha256: string | null;
}

/** A file on its way in. */
export interface Upload {
  readonly id: string;
  readonly personId: string;
  readonly partId: string;
  readonly told: ToldOfUpload;
  readonly bytes: number;
  /** On disk for certain. */
  readonly arrived: number;
  readonly state: UploadState;
  /** Of the bytes; null before they are all there. */
  readonly sha256: string | null;
  readonly fileId: string | null;
  /** Why it was refused. */
  readonly cause: string | null;
  readonly madeMs: number;
  readonly changedMs: number;
}

/** Files on their way in. */
export interface Uploads {
  begin(given: {
    readonly personId: string;
    readonly partId: string;
    readonly told: ToldOfUpload;
    readonly bytes: number;
    readonly at: number;
  }): Promise<Upload>;
  get(id: string): Promise<Upload | null>;
  /** Those that arrive, or are whole and no file yet; the one that nothing happened to for longest first. */
  open(): Promise<readonly Upload[]>;
  arrived(id: string, bytes: number, at: number): Promise<void>;
  whole(id: string, sha256: string, at: number): Promise<void>;
  received(id: string, fileId: string, at: number): Promise<void>;
  refuse(id: string, cause: string, at: number): Promise<void>;
  giveUp(id: string, at: number): Promise<void>;
}

/** The table of uploads. */
export function uploadsIn(access: Access): Uploads {
  const change = (sql: string, values: Readonly<Record<string, string | number>>): Promise<void> =>
    access.write(
      (database) =>
        void database.run(`UPDATE upload SET ${sql}, changed_ms = max(changed_ms, :at) WHERE id = :id`, values),
    );
  return {
    begin: ({ personId, partId, told, bytes, at }) =>
      access.write((database) => {
        const id = newId();
        database.run(
          `INSERT INTO upload (id, person_id, part_id, told_json, bytes, arrived, state, made_ms, changed_ms)
           VALUES (:id, :personId, :partId, :told, :bytes, 0, 'arriving', :at, :at)`,
          { id, personId, partId, told: JSON.stringify(told), bytes, at },
        );
        return uploadOf(database.one('SELECT * FROM upload WHERE id = :id', { id }) ?? {});
      }),
    get: (id) =>
      access.read((database) => {
        const row = database.one('SELECT * FROM upload WHERE id = :id', { id });
        return row && uploadOf(row);
      }),
    open: () =>
      access.read((database) =>
        database
          .all(`SELECT * FROM upload WHERE state IN ('arriving', 'whole') ORDER BY changed_ms, rowid`)
          .map(uploadOf),
      ),
    arrived: (id, bytes, at) => change('arrived = :bytes', { id, bytes, at }),
    whole: (id, sha256, at) => change(`state = 'whole', sha256 = :sha256`, { id, sha256, at }),
    received: (id, fileId, at) => change(`state = 'received', file_id = :fileId`, { id, fileId, at }),
    refuse: (id, cause, at) => change(`state = 'refused', cause = :cause`, { id, cause, at }),
    giveUp: (id, at) => change(`state = 'given-up'`, { id, at }),
  };
}

function uploadOf(row: Row): Upload {
  return {
    id: textIn(row, 'id'),
    personId: textIn(row, 'person_id'),
    partId: textIn(row, 'part_id'),
    // Written by `begin` above and by nobody else.
    told: JSON.parse(textIn(row, 'told_json')) as ToldOfUpload,
    bytes: numberIn(row, 'bytes'),
    arrived: numberIn(row, 'arrived'),
    state: wordIn(row, 'state', STATES),
    sha256: textOrNullIn(row, 'sha256'),
    fileId: textOrNullIn(row, 'file_id'),
    cause: textOrNullIn(row, 'cause'),
    madeMs: numberIn(row, 'made_ms'),
    changedMs: numberIn(row, 'changed_ms'),
  };
}
