import type { Access } from './access.ts';
import type { Database } from './database.ts';
import type { Row } from './row.ts';
import { bytesIn, numberIn, textIn, textOrNullIn, wordIn } from './row.ts';

/** What a party may state. */
export type StatementKind =
  'key-confirmation' | 'sign-off' | 'ruling' | 'release' | 'revocation' | 'withdrawal' | 'replacement';
const STATEMENT_KINDS: readonly StatementKind[] = [
  'key-confirmation',
  'sign-off',
  'ruling',
  'release',
  'revocation',
  'withdrawal',
  'replacement',
];

/** What a statement is about, by its id or hash. */
export interface StatementSubject {
  readonly kind: 'file' | 'report' | 'finding' | 'certificate' | 'statement';
  readonly subject: string;
}
const SUBJECT_KINDS: readonly StatementSubject['kind'][] = ['file', 'report', 'finding', 'certificate', 'statement'];

/** A party's word on a finding. */
export interface Ruling {
  readonly findingId: string;
  readonly decision: 'agreed' | 'to-be-put-right';
  readonly account: 'authors-alteration' | 'printers-error' | 'shared' | 'not-settled';
}

/** A statement as it was signed, and its place in the log. */
export interface KeptStatement {
  /** SHA-256, in hexadecimal, of what the room that signs takes as its identity. */
  readonly id: string;
  readonly kind: StatementKind;
  readonly titleId: string | null;
  readonly partId: string | null;
  /** Fingerprint of the signer's certificate. */
  readonly certificate: string;
  /** SHA-256 of `bytes`. */
  readonly bytesHash: string;
  readonly bytes: Uint8Array;
  /** Detached CMS, DER. */
  readonly signature: Uint8Array;
  readonly logIndex: number;
  readonly atMs: number;
}

/** A ruling with whose it is, and on which comparison. */
export interface RulingMade extends Ruling {
  readonly statementId: string;
  readonly partyId: string;
  readonly reportId: string;
  readonly dummyId: string;
  readonly fileId: string;
  readonly atMs: number;
}

/** Statements, what they are about, and the rulings they contain. */
export interface Statements {
  /** After its entry in the log, in one transaction with it. The same bytes of the same signer are refused. */
  add(statement: KeptStatement, subjects: readonly StatementSubject[], rulings?: readonly Ruling[]): Promise<void>;
  /** Notes the number that a statement bears inside, which nobody may use again. */
  takeNumber(given: { readonly number: string; readonly statementId: string }): Promise<void>;
  isNumberTaken(number: string): Promise<boolean>;
  get(id: string): Promise<KeptStatement | null>;
  /** Whether this signer has stated these bytes before. */
  isStated(certificate: string, bytesHash: string): Promise<boolean>;
  ofTitle(titleId: string): Promise<readonly KeptStatement[]>;
  /** In the order of the log. */
  ofPart(partId: string): Promise<readonly KeptStatement[]>;
  /** In the order of the log. */
  about(subject: StatementSubject): Promise<readonly KeptStatement[]>;
  /** On findings of a part, those that name their report, in the order of the log. */
  rulingsOfPart(partId: string): Promise<readonly RulingMade[]>;
  subjectsOf(id: string): Promise<readonly StatementSubject[]>;
  /** Rulings on a finding in the order of the log, with the party that made each: its last one holds. */
  rulingsOn(
    findingId: string,
  ): Promise<readonly (Ruling & { readonly statementId: string; readonly partyId: string })[]>;
}

/** The tables of statements, their subjects and rulings. */
export function statementsIn(access: Access): Statements {
  return {
    add: (statement, subjects, rulings = []) =>
      access.write((database) => addStatement(database, statement, subjects, rulings)),
    takeNumber: (given) =>
      access.write(
        (database) =>
          void database.run('INSERT INTO statement_number (number, statement) VALUES (:number, :statementId)', given),
      ),
    isNumberTaken: (number) =>
      access.read(
        (database) => database.one('SELECT 1 FROM statement_number WHERE number = :number', { number }) !== null,
      ),
    get: (id) =>
      access.read((database) => {
        const row = database.one('SELECT * FROM statement WHERE id = :id', { id });
        return row && statementOf(row);
      }),
    isStated: (certificate, bytesHash) =>
      access.read(
        (database) =>
          database.one('SELECT 1 FROM statement WHERE certificate = :certificate AND bytes_hash = :bytesHash', {
            certificate,
            bytesHash,
          }) !== null,
      ),
    ofTitle: (titleId) =>
      access.read((database) =>
        database
          .all('SELECT * FROM statement WHERE title_id = :titleId ORDER BY log_index', { titleId })
          .map(statementOf),
      ),
    ofPart: (partId) =>
      access.read((database) =>
        database.all('SELECT * FROM statement WHERE part_id = :partId ORDER BY log_index', { partId }).map(statementOf),
      ),
    rulingsOfPart: (partId) => access.read((database) => database.all(RULINGS_OF_PART, { partId }).map(rulingMadeOf)),
    about: ({ kind, subject }) =>
      access.read((database) =>
        database
          .all(
            `SELECT statement.* FROM statement_subject AS about JOIN statement ON statement.id = about.statement
             WHERE about.kind = :kind AND about.subject = :subject ORDER BY log_index`,
            { kind, subject },
          )
          .map(statementOf),
      ),
    subjectsOf: (id) =>
      access.read((database) =>
        database
          .all('SELECT kind, subject FROM statement_subject WHERE statement = :id ORDER BY kind, subject', { id })
          .map((row) => ({ kind: wordIn(row, 'kind', SUBJECT_KINDS), subject: textIn(row, 'subject') })),
      ),
    rulingsOn: (findingId) =>
      access.read((database) =>
        database
          .all(
            `SELECT ruling.*, party_id FROM ruling JOIN statement ON statement.id = ruling.statement
               JOIN certificate ON fingerprint = statement.certificate
             WHERE finding_id = :findingId ORDER BY log_index`,
            { findingId },
          )
          .map((row) => ({
            statementId: textIn(row, 'statement'),
            partyId: textIn(row, 'party_id'),
            ...rulingOf(row),
          })),
      ),
  };
}

const RULINGS_OF_PART = `SELECT ruling.*, certificate.party_id, statement.at_ms, report.id AS report_id, dummy_id, file_id
  FROM ruling JOIN statement ON statement.id = ruling.statement
    JOIN certificate ON fingerprint = statement.certificate
    JOIN statement_subject AS about ON about.statement = statement.id AND about.kind = 'report'
    JOIN report ON report.id = about.subject
  WHERE statement.part_id = :partId ORDER BY log_index, finding_id`;

function rulingOf(row: Row): Ruling {
  return {
    findingId: textIn(row, 'finding_id'),
    decision: wordIn(row, 'decision', ['agreed', 'to-be-put-right']),
    account: wordIn(row, 'account', ['authors-alteration', 'printers-error', 'shared', 'not-settled']),
  };
}

function rulingMadeOf(row: Row): RulingMade {
  return {
    ...rulingOf(row),
    statementId: textIn(row, 'statement'),
    partyId: textIn(row, 'party_id'),
    reportId: textIn(row, 'report_id'),
    dummyId: textIn(row, 'dummy_id'),
    fileId: textIn(row, 'file_id'),
    atMs: numberIn(row, 'at_ms'),
  };
}

function addStatement(
  database: Database,
  statement: KeptStatement,
  subjects: readonly StatementSubject[],
  rulings: readonly Ruling[],
): void {
  const { id, kind, titleId, partId, certificate, bytesHash, bytes, signature, logIndex, atMs } = statement;
  database.run(
    `INSERT INTO statement
       (id, kind, title_id, part_id, certificate, bytes_hash, bytes, signature, log_index, at_ms)
     VALUES (:id, :kind, :titleId, :partId, :certificate, :bytesHash, :bytes, :signature, :logIndex, :atMs)`,
    { id, kind, titleId, partId, certificate, bytesHash, bytes, signature, logIndex, atMs },
  );
  for (const about of subjects) {
    database.run('INSERT INTO statement_subject (statement, kind, subject) VALUES (:id, :kind, :subject)', {
      id,
      kind: about.kind,
      subject: about.subject,
    });
  }
  for (const { findingId, decision, account } of rulings) {
    database.run(
      `INSERT INTO ruling (statement, finding_id, decision, account) VALUES (:id, :findingId, :decision, :account)`,
      { id, findingId, decision, account },
    );
  }
}

function statementOf(row: Row): KeptStatement {
  return {
    id: textIn(row, 'id'),
    kind: wordIn(row, 'kind', STATEMENT_KINDS),
    titleId: textOrNullIn(row, 'title_id'),
    partId: textOrNullIn(row, 'part_id'),
    certificate: textIn(row, 'certificate'),
    bytesHash: textIn(row, 'bytes_hash'),
    bytes: bytesIn(row, 'bytes'),
    signature: bytesIn(row, 'signature'),
    logIndex: numberIn(row, 'log_index'),
    atMs: numberIn(row, 'at_ms'),
  };
}
