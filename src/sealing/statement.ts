import { canonicalBytes, parseCanonicalJson, Refusal, type Statement } from '../model/index.ts';
import { formatHex } from './octets.ts';
import { statementForm } from './statement-form.ts';
import { randomBytes } from './web-crypto.ts';

/** Bytes of a statement; one on 100,000 pages has about 7 MB. */
const MOST_BYTES = 16 * 1024 * 1024;

/** An id for a new statement: 128 bits of chance. */
export function newStatementId(): string {
  return formatHex(randomBytes(16));
}

/**
 * The bytes of a statement that are signed.
 *
 * @throws {Refusal} malformed: a member does not have its form; too-large: more pages or findings than one book has
 * @source RFC 8785 3.2.4
 */
export function statementBytes(statement: Statement): Uint8Array<ArrayBuffer> {
  const bytes = canonicalBytes(statement);
  parseStatement(bytes);
  return bytes;
}

/**
 * The statement that some signed bytes are. Whatever would not be written back the same is refused.
 *
 * @throws {Refusal} malformed: not canonical JSON, or a member missing, unknown or not of its form
 * @throws {Refusal} too-large: more than 16 MiB, or more pages or findings than one book has
 */
export function parseStatement(bytes: Uint8Array): Statement {
  if (bytes.length > MOST_BYTES) {
    throw new Refusal('too-large', { what: 'statement', limit: MOST_BYTES, found: bytes.length, unit: 'bytes' });
  }
  return statementForm(parseCanonicalJson(bytes), '') as Statement;
}
