import { EMPTY_ROOT, hexOf } from '../ledger/index.ts';
import type { Instant, Statement } from '../model/index.ts';
import { checkStatement, formatPem, parseStatement, type PinnedCertificate } from '../sealing/index.ts';
import { certificateInPem } from './certificate-pem.ts';
import {
  checked,
  fails,
  holds,
  namesIn,
  numberIn,
  readOr,
  type EvidenceCheck,
  type Findings,
  type ProvedEntry,
} from './evidence-check.ts';
import { hexSha256 } from './hex-sha256.ts';
import { inName } from './names.ts';

/** Every certificate: named by its SHA-256 and in one form. */
export async function checkCertificates(findings: Findings): Promise<readonly EvidenceCheck[]> {
  const { pack, certificates } = findings;
  const checks: EvidenceCheck[] = [];
  for (const name of namesIn(pack, 'certificates', '.pem')) {
    const read = await readOr(name, 'certificate-named', async () => {
      const text = new TextDecoder().decode(await pack.read(name));
      const der = certificateInPem(text);
      return { der, isExact: formatPem('CERTIFICATE', der) === text };
    });
    if ('fault' in read) {
      checks.push(read.fault);
      continue;
    }
    const { der, isExact } = read.value;
    const sha256 = hexSha256(der);
    const isNamed = isExact && name === `certificates/${sha256}.pem`;
    checks.push(
      checked(name, 'certificate-named', isNamed, {
        expected: 'the certificate of this SHA-256 and nothing else',
        found: `one of SHA-256 ${sha256}`,
      }),
    );
    if (isNamed) certificates.set(sha256, der);
  }
  return checks;
}

/** Every statement: its form, its signature with all that goes with it, its entry in the log, and the head it was made on. */
export async function checkStatements(findings: Findings): Promise<readonly EvidenceCheck[]> {
  const { pack } = findings;
  const names = namesIn(pack, 'statements', '.json');
  const read = await Promise.all(names.map((name) => readStatement(findings, name)));
  const revocations = revokedFrom(findings, read);
  const checks: EvidenceCheck[] = [];
  for (const one of read) {
    if ('fault' in one) checks.push(one.fault);
    else checks.push(...(await statementChecks(findings, one, revocations)));
  }
  for (const name of namesIn(pack, 'statements', '.p7s')) {
    if (pack.names.includes(name.replace(/\.p7s$/, '.json'))) continue;
    checks.push(fails(name, 'statement-form', 'a statement beside its signature', 'none'));
  }
  for (const { index, says } of findings.entries.values()) {
    const name = `statements/${inName(index)}.json`;
    if (says.kind !== 'statement' || names.includes(name)) continue;
    checks.push(fails(name, 'there', 'the statement that an entry of the log names', 'none'));
  }
  return checks;
}

interface Read {
  readonly name: string;
  readonly index: number;
  readonly content: Uint8Array;
  readonly seal: Uint8Array;
  readonly statement: Statement;
}

async function readStatement({ pack }: Findings, name: string): Promise<Read | { readonly fault: EvidenceCheck }> {
  const index = numberIn(name);
  if (index === null) return { fault: fails(name, 'statement-form', 'a name with the number of its entry', name) };
  const read = await readOr(name, 'statement-form', async () => {
    const content = await pack.read(name);
    const seal = await pack.read(name.replace(/\.json$/, '.p7s'));
    return { name, index, content, seal, statement: parseStatement(content) };
  });
  return 'fault' in read ? read : read.value;
}

/** From when on each certificate is revoked, by what its owners signed, and by what the archive tells of other titles. */
function revokedFrom(
  { facts }: Findings,
  statements: readonly (Read | { readonly fault: EvidenceCheck })[],
): ReadonlyMap<string, Instant> {
  const moments: (readonly [string, Instant])[] = [
    ...(facts?.certificates ?? []).flatMap(({ sha256, revokedFrom: from }) =>
      from === null ? [] : [[sha256, `${from.slice(0, 19)}Z`] as const],
    ),
    ...statements.flatMap((one) => {
      if ('fault' in one || one.statement.kind !== 'revocation') return [];
      return [[one.statement.subject.sha256, one.statement.subject.from] as const];
    }),
  ];
  const earliest = new Map<string, Instant>();
  for (const [sha256, from] of moments) {
    const known = earliest.get(sha256);
    if (known === undefined || from < known) earliest.set(sha256, from);
  }
  return earliest;
}

async function statementChecks(
  findings: Findings,
  { name, index, content, seal, statement }: Read,
  revocations: ReadonlyMap<string, Instant>,
): Promise<readonly EvidenceCheck[]> {
  const entry = findings.entries.get(index);
  const pinned = [...findings.certificates].map(([sha256, certificate]): PinnedCertificate => {
    const from = revocations.get(sha256);
    // Whoever revokes a certificate may sign that with it.
    return from === undefined || statement.kind === 'revocation' ? { certificate } : { certificate, revokedFrom: from };
  });
  const receivedAt = entry === undefined ? statement.at : `${entry.says.at.slice(0, 19)}Z`;
  const { checks } = await checkStatement({ content, seal, pinned, receivedAt });
  const isSigned = checks.every(({ outcome }) => outcome === 'holds');
  if (isSigned) findings.statements.set(index, statement);
  return [
    holds(name, 'statement-form'),
    ...checks.map((check): EvidenceCheck => ({ about: name, check })),
    loggedCheck(name, { content, seal }, entry),
    headCheck(findings, name, index, statement),
  ];
}

function loggedCheck(
  name: string,
  { content, seal }: Pick<Read, 'content' | 'seal'>,
  entry: ProvedEntry | undefined,
): EvidenceCheck {
  const expected = 'an entry of the log with the hashes of statement and signature';
  if (entry === undefined) return fails(name, 'statement-logged', expected, 'no entry that is proved');
  const hashes = entry.says.subjects.map(({ sha256 }) => sha256);
  const isSo = entry.says.kind === 'statement' && [content, seal].every((bytes) => hashes.includes(hexSha256(bytes)));
  return checked(name, 'statement-logged', isSo, { expected, found: 'an entry with others' });
}

function headCheck({ begins, archive }: Findings, name: string, index: number, { head }: Statement): EvidenceCheck {
  const { origin, size, root } = head;
  const begin = size === 0 ? EMPTY_ROOT : begins.get(size);
  if (archive === null || begin === undefined) {
    return fails(name, 'statement-head', `a proof from the log of ${size} entries`, 'none that holds');
  }
  const isSo = origin === archive.name && root === hexOf(begin) && size <= index;
  return checked(name, 'statement-head', isSo, {
    expected: `this log, when it had ${size} entries, before its own`,
    found: `${origin}, root ${root}`,
  });
}
