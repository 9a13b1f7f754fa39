import { failedChecks, Refusal, type Check, type LogSubject, type Statement } from '../../model/index.ts';
import { checkStatement, formatInstant, parseStatement, sha256Hex, type SignedStatement } from '../../sealing/index.ts';
import type { Actor } from '../actor.ts';
import { certificateState } from '../certificates/certificate-state.ts';
import type { KeptCertificate, KeptStatement, Tables, Title } from '../catalogue/index.ts';
import type { Archive } from '../open-archive.ts';
import { recordFailure } from '../record/record-failure.ts';
import { recorded, type EntryToRecord } from '../record/recorded.ts';
import { requireStanding, type Seen } from '../standing.ts';
import { CLOCK_TOLERANCE_MS, otherSide, partyIdOf } from './key-subjects.ts';
import { findSubject } from './subject.ts';

/** How long after it was drafted a statement may be signed and sent: time enough to read it and find the passphrase. */
const DRAFT_LASTS_MS = 60 * 60_000;

/** A statement on its way in: what it says, the bytes and the seal, and when it came. */
interface Arriving extends SignedStatement {
  readonly statement: Statement;
  readonly bytesHash: string;
  readonly at: number;
}

/**
 * Takes a statement into the log, if all of it holds: the signature; the certificate, introduced by the signer, confirmed
 * by the other side, not revoked; the title, the side and the right of the signer; the time of signing; the head that it
 * names; that it was not taken before; its subject, hash by hash, and that it can be stated as things stand. What follows
 * from it is of the same transaction.
 *
 * Of two that come at once the second finds what the first has done. What does not verify is recorded as such.
 *
 * @param actor  who brings it, and has signed it
 * @param at  milliseconds since 1970, by the archive's clock
 * @throws {Refusal} malformed, too-large: as `parseStatement`
 * @throws {Refusal} not-found: the title, as `requireStanding`
 * @throws {Refusal} not-allowed: no right to sign, another person's certificate, or not this side's to state
 * @throws {Refusal} unproven: each check that does not hold
 * @throws {Refusal} out-of-step: taken before, signed at another time than now, or things do not stand so any more
 * @throws {Refusal} unsettled: a release while findings are open
 */
export async function admitStatement(
  archive: Pick<Archive, 'blobs' | 'catalogue' | 'identity'>,
  actor: Actor,
  signed: SignedStatement,
  at: number,
): Promise<KeptStatement> {
  const statement = parseStatement(signed.content);
  const { title } = await requireStanding(archive.catalogue, actor, statement.title.id, 'sign');
  const arriving: Arriving = { ...signed, statement, bytesHash: await sha256Hex(signed.content), at };
  const subjects = await subjectsOf(arriving);
  try {
    await requireSeal(archive.catalogue, actor, arriving);
    return await recorded(archive, at, async (tables, log) => {
      const seen = await requireStanding(tables, actor, title.id, 'sign');
      await requireUntaken(tables, arriving);
      await requireSigner(tables, seen, arriving);
      requireTime(arriving);
      await requireHead(tables, archive.identity.origin, arriving.statement);
      requireTitle(seen.title, arriving.statement);
      const found = await findSubject({ tables, blobs: archive.blobs, title: seen.title, at }, statement);
      const entry: EntryToRecord = { kind: 'statement', titleId: title.id, by: actor, subjects };
      const kept = keptOf(arriving, found.part?.id ?? null, await log(entry));
      await tables.statements.add(kept, found.subjects, found.rulings);
      await tables.statements.takeNumber({ number: statement.id, statementId: kept.id });
      await found.follow?.(kept.id);
      return kept;
    });
  } catch (error) {
    await recordFailure(archive, { titleId: title.id, by: actor, subjects }, error, at);
    throw error;
  }
}

function keptOf(arriving: Arriving, partId: string | null, logIndex: number): KeptStatement {
  const { statement, content, seal, bytesHash, at } = arriving;
  return {
    id: bytesHash,
    kind: statement.kind,
    titleId: statement.title.id,
    partId,
    certificate: statement.signer.certificate,
    bytesHash,
    bytes: content,
    signature: seal,
    logIndex,
    atMs: at,
  };
}

/** Bytes and signature, so that the log fixes both. */
async function subjectsOf({ statement, bytesHash, seal }: Arriving): Promise<readonly LogSubject[]> {
  return [
    { what: 'statement', id: statement.id, sha256: bytesHash },
    { what: 'signature', id: statement.id, sha256: await sha256Hex(seal) },
  ];
}

/** What needs nothing but the statement and the certificate; the part that can change is looked at again inside. */
async function requireSeal(tables: Tables, actor: Actor, arriving: Arriving): Promise<void> {
  const { content, seal, at, statement } = arriving;
  const certificate = await tables.certificates.get(statement.signer.certificate);
  const isOwn = certificate?.partyId === actor.partyId;
  const { checks } = await checkStatement({
    content,
    seal,
    pinned: isOwn ? [pinOf(certificate)] : [],
    receivedAt: formatInstant(new Date(at)),
  });
  refuseFailed(statement, checks);
}

function pinOf({ der, revocation }: KeptCertificate): {
  readonly certificate: Uint8Array;
  readonly revokedFrom?: string;
} {
  if (revocation === null) return { certificate: der };
  return { certificate: der, revokedFrom: formatInstant(new Date(revocation.fromMs)) };
}

async function requireUntaken(tables: Tables, { statement, bytesHash }: Arriving): Promise<void> {
  const isTaken =
    (await tables.statements.isNumberTaken(statement.id)) || (await tables.statements.get(bytesHash)) !== null;
  if (isTaken) refuse('the statement', statement.id, 'taken before');
}

/**
 * That the signer is who brings it, on the side that they name, with a certificate that counts. The first keys of two
 * parties confirm each other, and a key that is not confirmed can always give itself up.
 */
async function requireSigner(tables: Tables, { title, standing, person }: Seen, arriving: Arriving): Promise<void> {
  const { statement, at } = arriving;
  const { signer } = statement;
  const certificate = await tables.certificates.get(signer.certificate);
  if (certificate?.personId !== person.id) {
    throw new Refusal('not-allowed', { what: 'sign with this certificate', missing: 'having introduced it' });
  }
  const name = `${person.name}, ${(await tables.parties.get(person.partyId))?.name ?? ''}`;
  const other = partyIdOf(title, otherSide(signer.party));
  const state = await certificateState(tables, certificate, other, at);
  const needsConfirmed =
    statement.kind !== 'key-confirmation' &&
    !(statement.kind === 'revocation' && statement.subject.sha256 === signer.certificate);
  const checks: readonly Check[] = [
    same('signer-party', standing, signer.party),
    same('signer-name', name, `${signer.name}, ${signer.organisation}`),
    same('certificate-not-revoked', 'not revoked', state === 'revoked' ? 'revoked' : 'not revoked'),
    needsConfirmed
      ? same('certificate-confirmed', 'confirmed', state)
      : { name: 'certificate-confirmed', outcome: 'holds' },
  ];
  refuseFailed(statement, checks);
}

function requireTime({ statement, at }: Arriving): void {
  const lateMs = at - Date.parse(statement.at);
  if (lateMs <= DRAFT_LASTS_MS && lateMs >= -CLOCK_TOLERANCE_MS) return;
  refuse('the time of signing', statement.at, formatInstant(new Date(at)));
}

/** Any head that this archive ever signed will do: what happened since does not unsay it. */
async function requireHead(tables: Tables, origin: string, statement: Statement): Promise<void> {
  const { head } = statement;
  const known = await tables.log.checkpoint(head.size);
  const root = known === null ? 'no head' : Buffer.from(known.rootHash).toString('hex');
  refuseFailed(statement, [
    same('head-origin', origin, head.origin),
    same('head-root', root, known === null ? `a head of ${head.size} entries` : head.root),
  ]);
}

function requireTitle(title: Title, statement: Statement): void {
  if (title.name !== statement.title.name) refuse('the name of the title', statement.title.name, title.name);
}

function same(name: string, expected: string, found: string): Check {
  return expected === found ? { name, outcome: 'holds' } : { name, outcome: 'fails', expected, found };
}

function refuseFailed({ id }: Statement, checks: readonly Check[]): void {
  const failed = failedChecks(checks);
  if (failed.length > 0) throw new Refusal('unproven', { what: `statement ${id}`, checks: failed });
}

function refuse(what: string, named: string, current: string): never {
  throw new Refusal('out-of-step', { what, named, current });
}
