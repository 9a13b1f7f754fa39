import { partName, readReport, signedHashOf } from '../../archive/index.ts';
import type { Archive, KeptCertificate, KeptReport, KeptStatement, SentFile, Tables } from '../../archive/index.ts';
import type { Report } from '../../model/index.ts';
import { fingerprintOf } from '../../sealing/index.ts';
import { hexOf } from '../../ledger/index.ts';
import { chooseContents, type Chosen, type ReadEntry } from './choose-contents.ts';
import { pageHistories, type ReadReport } from './page-histories.ts';
import type { PackFacts } from '../../evidence/index.ts';
import type { PackOrder } from './pack-order.ts';

/** What a pack is made of, read from the archive at one moment; the blobs are read later. */
export interface Gathered extends Chosen {
  readonly facts: PackFacts;
  readonly certificates: readonly KeptCertificate[];
}

/** The newest head of the log, as it was when the reading began. */
export interface GatheredHead {
  readonly size: number;
  readonly root: Uint8Array;
}

/** An instant as the log writes it. */
function instantOf(ms: number): string {
  return new Date(ms).toISOString();
}

/**
 * Reads from the catalogue what an order asks for.
 *
 * @param at  milliseconds since 1970
 * @throws {Refusal} unreadable: a report's blob is damaged
 */
export async function gatherFacts(
  { blobs, identity }: Pick<Archive, 'blobs' | 'identity'>,
  tables: Tables,
  order: PackOrder,
  { head, at }: { readonly head: GatheredHead; readonly at: number },
): Promise<Gathered> {
  const { titleId, scope, contents } = order;
  const chosen = await chooseContents(tables, order, head.size);
  const names = await tables.titles.names(titleId);
  const certificates = await certificatesOf(tables, chosen.statements);
  const reports = await readReports(blobs, chosen.reports);
  const people = await peopleOf(tables, chosen, certificates);
  const facts: PackFacts = {
    format: 'witnessleaf-evidence/1',
    archive: { origin: identity.origin, verifierKey: identity.verifierKey },
    madeAt: instantOf(at),
    scope,
    contents,
    head: { size: head.size, root: hexOf(head.root) },
    title: { id: titleId, name: names.at(-1) ?? '', formerNames: names.slice(0, -1) },
    parties: await partiesOf(tables, titleId, people, chosen.entries),
    people,
    parts: chosen.parts.map((part) => ({ id: part.id, name: partName(part) })),
    files: await Promise.all(chosen.files.map((file) => fileFacts(tables, file, chosen.entries, contents))),
    reports: await Promise.all(reports.map((read) => reportFacts(tables, read, chosen.entries, order))),
    statements: statementFacts(chosen.statements, certificates),
    certificates: await Promise.all(certificates.map(certificateFactsOf)),
    timeStamps: [],
    history: await pageHistories(tables, { ...chosen, reports, scope }),
    entries: chosen.entries.map(({ kept }) => kept.index),
  };
  return { ...chosen, facts, certificates };
}

function entryOf(entries: readonly ReadEntry[], kind: string, id: string): number | null {
  const entry = entries.find(({ kept, says }) => kept.kind === kind && says.subjects.some((one) => one.id === id));
  return entry?.kept.index ?? null;
}

/** Where the bytes of a file lie in a pack that has them. */
export function fileMember({ sha256, name }: Pick<SentFile, 'sha256' | 'name'>): string {
  const ending = /\.(pdf|tiff?|zip)$/i.exec(name)?.[1]?.toLowerCase() ?? 'bin';
  return `files/${sha256}.${ending}`;
}

async function fileFacts(
  tables: Tables,
  file: SentFile,
  entries: readonly ReadEntry[],
  contents: PackOrder['contents'],
): Promise<PackFacts['files'][number]> {
  // how sheets were said to fold is told by the log, and how they were folded by the plan itself
  const { position: _position, folding: _folding, foldingNumber: _number, atMs, ...told } = file;
  const blob = await tables.blobs.get(file.sha256);
  const pages = await tables.pages.ofBlob(file.sha256);
  const list = file.replaces === null ? null : await keptList(tables, file);
  return {
    ...told,
    at: instantOf(atMs),
    bytes: blob?.bytes ?? 0,
    pages: pages?.length ?? null,
    pageList: list === null ? null : { sha256: list, member: contents === 'files' ? `files/${list}.json` : null },
    entry: entryOf(entries, 'upload', file.id),
    member: contents === 'files' ? fileMember(file) : null,
  };
}

/** The list of pages of a book that lies in several files, where it was compared and the list is kept. */
async function keptList(tables: Tables, file: SentFile): Promise<string | null> {
  const sha256 = await signedHashOf(tables, file);
  return sha256 !== null && (await tables.blobs.get(sha256)) !== null ? sha256 : null;
}

/** Where a report lies in a pack. */
export function reportFolder({ id }: { readonly id: string }): string {
  return `reports/${id}`;
}

async function reportFacts(
  tables: Tables,
  { kept, report }: ReadReport,
  entries: readonly ReadEntry[],
  { scope, contents }: PackOrder,
): Promise<PackFacts['reports'][number]> {
  const { id, partId, dummyId, fileId, verdict, sha256, atMs } = kept;
  const noted = await tables.findings.inReport(id);
  const marks = noted.flatMap(({ finding, mark }) =>
    scope.kind === 'page' && finding.dummyPage !== scope.dummyPage ? [] : [mark],
  );
  const exhibits = (await tables.pictures.exhibits(id)).filter(({ mark }) => marks.includes(mark));
  return {
    ...{ id, partId, dummyId, fileId, verdict, sha256, at: instantOf(atMs) },
    entry: entryOf(entries, 'report', id),
    member: `${reportFolder(kept)}/report.json`,
    folded: foldedFacts(entries, id, contents),
    findings: noted.flatMap(({ finding, mark, weight }) => {
      const told = report.findings.find((one) => one.id === mark);
      if (told === undefined || !marks.includes(mark)) return [];
      const { kind, dummyPage, revisionPage, says } = told;
      return [{ mark, id: finding.id, kind, weight, dummyPage, revisionPage, says }];
    }),
    pictures: exhibits.map(({ mark, side, sha256: picture }) => ({
      ...{ mark, side, member: `${reportFolder(kept)}/${side}-${picture}.webp` },
    })),
  };
}

/** What the log says of the book that imposed sheets fold to. */
function foldedFacts(
  entries: readonly ReadEntry[],
  reportId: string,
  contents: PackOrder['contents'],
): PackFacts['reports'][number]['folded'] {
  const index = entryOf(entries, 'report', reportId);
  const subjects = entries.find(({ kept }) => kept.index === index)?.says.subjects ?? [];
  const blobOf = (what: string, ending: string) => {
    const sha256 = subjects.find((one) => one.what === what)?.sha256 ?? null;
    return sha256 === null ? null : { sha256, member: contents === 'files' ? `files/${sha256}.${ending}` : null };
  };
  const [book, plan] = [blobOf('folded-book', 'pdf'), blobOf('folding-plan', 'json')];
  return book === null || plan === null ? null : { book, plan };
}

async function readReports(blobs: Archive['blobs'], reports: readonly KeptReport[]): Promise<readonly ReadReport[]> {
  const read: { kept: KeptReport; report: Report }[] = [];
  for (const kept of reports) read.push({ kept, report: await readReport(blobs, kept.sha256) });
  return read;
}

function statementFacts(
  statements: readonly KeptStatement[],
  certificates: readonly KeptCertificate[],
): PackFacts['statements'] {
  return statements.map(({ logIndex, kind, partId, atMs, certificate, bytesHash }) => ({
    ...{ entry: logIndex, kind, partId, at: instantOf(atMs), certificate, sha256: bytesHash },
    personId: certificates.find(({ fingerprint }) => fingerprint === certificate)?.personId ?? '',
  }));
}

/** The certificates that signed, and those that were confirmed or revoked. */
async function certificatesOf(
  tables: Tables,
  statements: readonly KeptStatement[],
): Promise<readonly KeptCertificate[]> {
  const named = new Set(statements.map(({ certificate }) => certificate));
  for (const { id, kind } of statements) {
    if (kind !== 'key-confirmation' && kind !== 'revocation') continue;
    for (const { kind: what, subject } of await tables.statements.subjectsOf(id)) {
      if (what === 'certificate') named.add(subject);
    }
  }
  const kept = await Promise.all([...named].sort().map((fingerprint) => tables.certificates.get(fingerprint)));
  return kept.filter((one) => one !== null);
}

async function certificateFactsOf(kept: KeptCertificate): Promise<PackFacts['certificates'][number]> {
  const { fingerprint, personId, der, introducedMs, revocation } = kept;
  return {
    ...{ sha256: fingerprint, fingerprint: await fingerprintOf(der), personId, introducedAt: instantOf(introducedMs) },
    revokedFrom: revocation && instantOf(revocation.fromMs),
  };
}

async function peopleOf(
  tables: Tables,
  { files, entries }: Chosen,
  certificates: readonly KeptCertificate[],
): Promise<PackFacts['people']> {
  const ids = new Set([
    ...files.map(({ senderId }) => senderId),
    ...certificates.map(({ personId }) => personId),
    ...entries.flatMap(({ says }) => (says.by.person === null ? [] : [says.by.person])),
  ]);
  const people = await Promise.all([...ids].sort().map((id) => tables.people.get(id)));
  return people.filter((one) => one !== null).map(({ id, partyId, name }) => ({ id, partyId, name }));
}

/** The two sides, whoever has sight, and whose people did something that stands in the pack. */
async function partiesOf(
  tables: Tables,
  titleId: string,
  people: PackFacts['people'],
  entries: readonly ReadEntry[],
): Promise<PackFacts['parties']> {
  const standing = new Map(
    (await tables.sight.parties(titleId)).map((one): [string, PackFacts['parties'][number]['standing']] => [
      one.partyId,
      one.standing,
    ]),
  );
  const shown = entries
    .filter(({ says }) => says.kind === 'sight-given' || says.kind === 'sight-taken')
    .flatMap(({ says }) => says.subjects.filter(({ what }) => what === 'party').map(({ id }) => id));
  const ids = new Set([...standing.keys(), ...people.map(({ partyId }) => partyId), ...shown]);
  const parties = await Promise.all([...ids].sort().map((id) => tables.parties.get(id)));
  return parties
    .filter((one) => one !== null)
    .map(({ id, name }) => ({ id, name, standing: standing.get(id) ?? ('none' as const) }));
}
