import { Refusal, type Party, type SeenHead, type Sha256, type Statement } from '../../model/index.ts';
import {
  certificateFacts,
  fingerprintOfHash,
  formatInstant,
  newStatementId,
  requireText,
  statementBytes,
} from '../../sealing/index.ts';
import type { Actor } from '../actor.ts';
import { certificateState } from '../certificates/certificate-state.ts';
import type { KeptCertificate, Tables } from '../catalogue/index.ts';
import type { Archive } from '../open-archive.ts';
import { requireFile, requireReport, requireStanding, type Seen } from '../standing.ts';
import { partName } from '../titles/titles.ts';
import { releaseGround } from './hindrances.ts';
import { otherSide, partyIdOf } from './key-subjects.ts';
import { inForce } from './part-life.ts';
import { partLife } from './part-state.ts';
import type { OrderOf, StatementOrder } from './order.ts';
import { releasedSheets } from './released-sheets.ts';
import { sentencesOf } from './report-said.ts';
import { signedFileOf } from './signed-file.ts';
import { findSubject } from './subject.ts';

/** The part of a statement that its order decides. */
type Said = { [K in Statement['kind']]: Pick<Statement & { readonly kind: K }, 'kind' | 'subject'> }[Statement['kind']];

/** Where an order leads: whose title it is on, and what will be said. */
interface Drafted {
  readonly seen: Seen;
  readonly said: Said;
}

type ArchiveToDraft = Pick<Archive, 'blobs' | 'catalogue' | 'identity'>;

/**
 * A statement as somebody may sign it now: its subject with all hashes, the head of the log, the signer and the moment
 * filled in. It is refused for whatever it would be refused for when it comes back at once; only signing is left.
 *
 * @param at  milliseconds since 1970, by the archive's clock; the statement is to come back within the hour
 * @throws {Refusal} not-found, not-allowed: as `requireStanding` for signing; or no certificate that will do
 * @throws {Refusal} as `findSubject`
 * @throws {Refusal} malformed: a reason that cannot be signed
 */
export async function draftStatement(
  archive: ArchiveToDraft,
  actor: Actor,
  order: StatementOrder,
  at: number,
): Promise<Statement> {
  const tables: Tables = archive.catalogue;
  const { seen, said } = await subjectOf(archive, actor, order, at);
  const party = sideOf(seen);
  const certificate = await certificateFor(tables, seen, order, at);
  const { commonName, organisation } = certificateFacts(certificate.der);
  const statement = {
    type: 'witnessleaf-statement/1',
    id: newStatementId(),
    title: { id: seen.title.id, name: seen.title.name },
    signer: { party, name: commonName, organisation, certificate: certificate.fingerprint },
    at: formatInstant(new Date(at)),
    head: await headSeen(archive),
    ...said,
  } as Statement;
  statementBytes(statement);
  await findSubject({ tables, blobs: archive.blobs, title: seen.title, at }, statement);
  return statement;
}

async function headSeen({ catalogue, identity }: ArchiveToDraft): Promise<SeenHead> {
  const head = await catalogue.log.latestCheckpoint();
  if (head === null) throw new Refusal('unreadable', { file: 'the log', reason: 'it has no head' });
  return { origin: identity.origin, size: head.size, root: Buffer.from(head.rootHash).toString('hex') };
}

async function subjectOf(archive: ArchiveToDraft, actor: Actor, order: StatementOrder, at: number): Promise<Drafted> {
  const tables: Tables = archive.catalogue;
  switch (order.kind) {
    case 'key-confirmation':
    case 'revocation':
      return onKey(tables, actor, order, at);
    case 'ruling':
      return ruling(archive, actor, order);
    default:
      return onFile(archive, actor, order);
  }
}

async function onKey(
  tables: Tables,
  actor: Actor,
  order: OrderOf<'key-confirmation' | 'revocation'>,
  at: number,
): Promise<Drafted> {
  const seen = await requireStanding(tables, actor, order.titleId, 'sign');
  const own = sideOf(seen);
  const party = order.kind === 'revocation' ? own : otherSide(own);
  const certificate = await tables.certificates.get(order.certificate);
  if (certificate?.partyId !== partyIdOf(seen.title, party)) throw new Refusal('not-found', { what: 'certificate' });
  const { fingerprint: sha256, der } = certificate;
  const named = { sha256, fingerprint: fingerprintOfHash(Buffer.from(sha256, 'hex')) };
  if (order.kind === 'revocation') {
    const from = order.from ?? formatInstant(new Date(at));
    const subject = { ...named, from, reason: reasonOf(order.reason) };
    return { seen, said: { kind: 'revocation', subject } };
  }
  const { commonName: name, organisation } = certificateFacts(der);
  return { seen, said: { kind: 'key-confirmation', subject: { ...named, party, name, organisation } } };
}

async function onFile(
  { blobs, catalogue }: ArchiveToDraft,
  actor: Actor,
  order: OrderOf<'sign-off' | 'release' | 'withdrawal' | 'replacement'>,
): Promise<Drafted> {
  const tables: Tables = catalogue;
  const seen = await requireFile(tables, actor, order.fileId, 'sign');
  const { file } = seen;
  const part = { id: seen.part.id, name: partName(seen.part) };
  if (order.kind !== 'release' && file.kind !== 'dummy') {
    throw new Refusal('not-allowed', { what: 'sign it as a dummy', missing: 'a file that was sent as one' });
  }
  switch (order.kind) {
    case 'sign-off':
      return { seen, said: { kind: order.kind, subject: { part, dummy: await signedFileOf(tables, file) } } };
    case 'withdrawal': {
      const subject = { part, dummy: file.sha256, reason: reasonOf(order.reason) };
      return { seen, said: { kind: order.kind, subject } };
    }
    case 'replacement': {
      const dummy = await signedFileOf(tables, file);
      const subject = { part, inForce: await hashInForce(tables, part.id), dummy, reason: reasonOf(order.reason) };
      return { seen, said: { kind: order.kind, subject } };
    }
    case 'release': {
      const { report, rulings } = await releaseGround(tables, file);
      const [dummy, platesInput] = [await hashInForce(tables, part.id), await signedFileOf(tables, file)];
      const sheets = await releasedSheets({ tables, blobs }, file, report);
      const subject = { part, dummy, platesInput, report: report.sha256, rulings, ...(sheets && { sheets }) };
      return { seen, said: { kind: order.kind, subject } };
    }
  }
}

async function ruling({ blobs, catalogue }: ArchiveToDraft, actor: Actor, order: OrderOf<'ruling'>): Promise<Drafted> {
  const tables: Tables = catalogue;
  const seen = await requireReport(tables, actor, order.reportId, 'sign');
  const { report, part } = seen;
  const [dummy, revision] = [await tables.files.get(report.dummyId), await tables.files.get(report.fileId)];
  const reported = await tables.findings.inReport(report.id);
  const sentences = await sentencesOf(blobs, report);
  const findings = order.findings.map((named) => {
    const found = reported.find(({ mark, finding }) => mark === named || finding.id === named);
    if (found === undefined) throw new Refusal('not-found', { what: 'finding' });
    return { id: found.mark, says: sentences.get(found.mark) ?? '' };
  });
  const { decision, account } = order;
  const subject = {
    part: { id: part.id, name: partName(part) },
    dummy: dummy?.sha256 ?? '',
    revision: revision?.sha256 ?? '',
    report: report.sha256,
    findings,
    decision,
    account,
  };
  return { seen, said: { kind: 'ruling', subject } };
}

async function hashInForce(tables: Tables, partId: string): Promise<Sha256> {
  const contract = inForce(await partLife(tables, partId));
  const dummy = contract && (await tables.files.get(contract.dummyId));
  if (dummy !== null) return dummy.sha256;
  throw new Refusal('out-of-step', { what: 'the dummy in force', named: 'one', current: 'none' });
}

/** The certificate that was asked for, or the person's latest with which this can be signed. */
async function certificateFor(tables: Tables, seen: Seen, order: StatementOrder, at: number): Promise<KeptCertificate> {
  const { person, title } = seen;
  const own = (await tables.certificates.ofParty(person.partyId)).filter(({ personId }) => personId === person.id);
  const other = partyIdOf(title, otherSide(sideOf(seen)));
  for (const certificate of own.toReversed()) {
    if ((order.signWith ?? certificate.fingerprint) !== certificate.fingerprint) continue;
    const state = await certificateState(tables, certificate, other, at);
    const isSelf = order.kind === 'revocation' && order.certificate === certificate.fingerprint;
    const isEnough = state === 'confirmed' || (state !== 'revoked' && (order.kind === 'key-confirmation' || isSelf));
    if (isEnough) return certificate;
  }
  const missing =
    order.kind === 'key-confirmation'
      ? 'a certificate of one’s own'
      : 'a certificate that the other side has confirmed';
  throw new Refusal('not-allowed', { what: 'sign', missing });
}

/** Whoever has the right to sign is of one of the two sides: `requireStanding` has seen to it. */
function sideOf({ standing }: Seen): Party {
  if (standing !== 'sight') return standing;
  throw new Refusal('not-allowed', { what: 'sign', missing: 'the role of publisher or printer' });
}

function reasonOf(reason: string): string {
  return requireText(reason.trim(), '/reason');
}
