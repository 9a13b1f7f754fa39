import { failedChecks, Refusal, type Check, type Instant, type Statement } from '../model/index.ts';
import type { CertificateFacts } from './certificate-facts.ts';
import { sealContent, type SigningKey } from './sign.ts';
import { parseStatement, statementBytes } from './statement.ts';
import { checkSeal, type PinnedCertificate, type SealCheckName } from './verify.ts';

/** A statement as it is sent and kept: the bytes that were signed, and the detached signature. */
export interface SignedStatement {
  readonly content: Uint8Array;
  readonly seal: Uint8Array;
}

/** What a signed statement is checked against: the pinned certificates, and when it came in. */
export interface StatementClaim extends SignedStatement {
  readonly pinned: readonly PinnedCertificate[];
  readonly receivedAt: Instant;
}

/** What is looked at in a signed statement. */
export type StatementCheckName = SealCheckName | 'signer-certificate' | 'signer-name';

/** A statement that was read, what came of each check, and whose it is where the certificate is pinned. */
export interface StatementAnswer {
  readonly statement: Statement;
  readonly checks: readonly Check<StatementCheckName>[];
  readonly signer?: CertificateFacts;
}

/**
 * Signs a statement with its owner's key; the signature names the same second as the statement.
 *
 * @throws {Refusal} malformed or too-large: the statement does not have its form; unreadable: no certificate
 */
export async function signStatement(statement: Statement, key: SigningKey): Promise<SignedStatement> {
  const content = statementBytes(statement);
  return { content, seal: await sealContent(content, key, statement.at) };
}

/**
 * Every check of a signed statement that needs nothing but itself and the pinned certificates. Whether its subject, the
 * head it names and its signer's right are as they must be, and whether it was taken before, is for whoever keeps the title.
 *
 * @throws {Refusal} malformed or too-large: the content is not a statement
 */
export async function checkStatement(claim: StatementClaim): Promise<StatementAnswer> {
  const statement = parseStatement(claim.content);
  const { checks, signer, certificate } = await checkSeal({ ...claim, at: statement.at });
  const named = statement.signer;
  const own = compare('signer-certificate', certificate, named.certificate, 'the signature cannot be read');
  const person = signer && `${signer.commonName}, ${signer.organisation}`;
  const name = compare('signer-name', person, `${named.name}, ${named.organisation}`, 'the certificate is not pinned');
  return { statement, checks: [...checks, own, name], ...(signer === undefined ? {} : { signer }) };
}

/**
 * The statement, if every check of it holds.
 *
 * @throws {Refusal} unproven: with each check that does not hold; malformed or too-large: as `checkStatement`
 */
export async function requireStatement(claim: StatementClaim): Promise<Statement> {
  const { statement, checks } = await checkStatement(claim);
  const failed = failedChecks(checks);
  if (failed.length > 0) throw new Refusal('unproven', { what: `statement ${statement.id}`, checks: failed });
  return statement;
}

function compare(
  name: StatementCheckName,
  expected: string | undefined,
  found: string,
  whyNot: string,
): Check<StatementCheckName> {
  if (expected === undefined) return { name, outcome: 'not-checked', why: whyNot };
  return expected === found ? { name, outcome: 'holds' } : { name, outcome: 'fails', expected, found };
}
