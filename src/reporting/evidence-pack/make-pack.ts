import type { Readable } from 'node:stream';
import { recorded, requireStanding, type Actor, type Archive, type Tables } from '../../archive/index.ts';
import { Refusal, type LogEntry, type Statement } from '../../model/index.ts';
import { formatPem, parseStatement } from '../../sealing/index.ts';
import { accountOf } from './account/account.ts';
import type { Account } from './account/section.ts';
import type { AccountSource } from './account/section.ts';
import { accountText } from './account/account-text.ts';
import { drawAccount } from './account/account-pdf.ts';
import { readPictures } from './account/account-pictures.ts';
import { fileMember, gatherFacts, reportFolder, type Gathered } from './gather-facts.ts';
import { memberOf, type Member } from './member.ts';
import { formatPackFacts, inName, type PackFacts } from '../../evidence/index.ts';
import type { PackOrder } from './pack-order.ts';
import { consistencyMember, entryMembers, headMembers, keyMembers, type LogSource } from './prove-entries.ts';
import { readmeOf } from './readme.ts';
import { sealMembers } from './seal-members.ts';
import { stampMembers } from './stamp-members.ts';
import { verifyScript } from './verify-script.ts';
import { zipMembers } from './zip-members.ts';

/** A pack that is ready to be read: its name as a file, and its bytes as they are made. */
export interface EvidencePack {
  readonly name: string;
  readonly facts: PackFacts;
  readonly stream: Readable;
}

/** What of an archive a pack is made from. */
export type PackSource = Pick<Archive, 'blobs' | 'catalogue' | 'identity'>;

/**
 * The evidence on a title, a part or a page, for somebody who may see it. The archive in the same state and the same `at`
 * give the same bytes. Nothing is recorded by this; whoever hands the pack out records that before.
 *
 * @param at  milliseconds since 1970
 * @throws {Refusal} not-found: the title, the part or the page
 * @throws {Refusal} unreadable: a report or the log is damaged
 */
export async function makeEvidencePack(
  archive: PackSource,
  actor: Actor,
  order: PackOrder,
  at: number,
): Promise<EvidencePack> {
  // read at one moment; what takes long is made of it afterwards, while others write
  const read = await archive.catalogue.together((tables) => readMembers(archive, tables, actor, order, at));
  const members = await sealedMembers(archive, read, at);
  const { facts } = read;
  const day = new Date(at).toISOString().slice(0, 10);
  return { name: `evidence-${order.titleId}-${day}.zip`, facts, stream: zipMembers(members, archive.blobs, at) };
}

const SCOPE_WORDS: Readonly<Record<PackOrder['scope']['kind'], string>> = {
  title: 'the whole title',
  part: 'one part',
  page: 'one page',
};

/**
 * The same, recorded in the log as an export before: who took evidence out, and of what. The pack has that entry in it.
 *
 * @param at  milliseconds since 1970
 * @throws {Refusal} as `makeEvidencePack`
 */
export async function exportEvidencePack(
  archive: PackSource,
  actor: Actor,
  order: PackOrder,
  at: number,
): Promise<EvidencePack> {
  const { titleId, scope, contents } = order;
  await recorded(archive, at, async (tables, log) => {
    await requireStanding(tables, actor, titleId);
    await requireScope(tables, order);
    const part = scope.kind === 'title' ? [] : [{ what: 'part', id: scope.partId, sha256: null }];
    const subjects = [{ what: 'title', id: titleId, sha256: null }, ...part];
    const page = scope.kind === 'page' ? `, dummy page ${scope.dummyPage}` : '';
    const remark = `${SCOPE_WORDS[scope.kind]}${page}, ${contents === 'files' ? 'with files' : 'hashes only'}`;
    await log({ kind: 'export', titleId, by: actor, subjects, remark });
  });
  return makeEvidencePack(archive, actor, order, at);
}

/** All of a pack but what is made of it afterwards. */
interface ReadMembers {
  readonly facts: PackFacts;
  readonly account: Account;
  /** The first of them first. */
  readonly listed: readonly [Member, ...Member[]];
}

/** With the account as it is printed, the list of all, and the archive's seal on it. */
async function sealedMembers(archive: PackSource, read: ReadMembers, at: number): Promise<readonly Member[]> {
  const { account, facts } = read;
  const [first, ...rest] = read.listed;
  const pictures = await readPictures(account, (member) => wholeBlob(archive, blobOfPicture(member)));
  const listed = [first, memberOf('account.pdf', await drawAccount(account, new Date(at), pictures)), ...rest];
  const sealed = await sealMembers(listed, archive.identity.signer, facts.madeAt);
  return [first, ...sealed, ...listed.slice(1)];
}

async function readMembers(
  archive: PackSource,
  tables: Tables,
  actor: Actor,
  order: PackOrder,
  at: number,
): Promise<ReadMembers> {
  await requireStanding(tables, actor, order.titleId);
  await requireScope(tables, order);
  const head = await tables.log.latestCheckpoint();
  if (head === null) throw new Refusal('not-found', { what: 'a head of the log' });
  const log: LogSource = {
    hashes: { hashOf: (level, index) => tables.log.node(level, index) },
    size: head.size,
    note: head.note,
  };
  const gathered = await gatherFacts(archive, tables, order, { head: { size: head.size, root: head.rootHash }, at });
  const source = sourceOf(gathered);
  const covered = [...gathered.statements.map(({ logIndex }) => logIndex + 1), head.size];
  const stamped = await stampMembers(tables, covered, order.authorities ?? []);
  const facts = { ...gathered.facts, timeStamps: stamped.facts };
  const account = accountOf({ ...source, facts });
  const seen = seenSizes(source, order, [...stamped.heads.keys()]).filter((size) => size >= 1 && size <= head.size);
  const small: [Member, ...Member[]] = [
    memberOf('README.txt', readmeOf(facts)),
    memberOf('account.txt', accountText(account)),
    memberOf('pack.json', formatPackFacts(facts)),
    memberOf('verify.sh', verifyScript()),
    ...keyMembers(archive.identity.verifierKey, archive.identity.signer.verifier),
    ...gathered.certificates.map(({ fingerprint, der }) =>
      memberOf(`certificates/${fingerprint}.pem`, formatPem('CERTIFICATE', der)),
    ),
    ...gathered.statements.flatMap(({ logIndex, bytes, signature }) => [
      memberOf(`statements/${inName(logIndex)}.json`, bytes),
      memberOf(`statements/${inName(logIndex)}.p7s`, signature),
    ]),
    ...stamped.members,
  ];
  for (const { kept } of gathered.entries) small.push(...(await entryMembers(kept, log)));
  for (const [size, note] of new Map([...stamped.heads, [head.size, head.note]])) {
    small.push(...(await headMembers(size, note, archive.identity.signer.verifier)));
  }
  for (const size of seen) if (size < head.size) small.push(await consistencyMember(size, log));
  return { facts, account, listed: [...small, ...(await blobMembers(tables, gathered, order))] };
}

/** The sizes of the log from which the pack proves that it has only grown. */
function seenSizes(
  { statements }: Pick<AccountSource, 'statements'>,
  order: PackOrder,
  stamped: readonly number[],
): number[] {
  const named = [...statements.values()].map(({ head }) => head.size);
  return [...new Set([...named, ...stamped, ...(order.seenSizes ?? [])])].sort((one, other) => one - other);
}

async function requireScope(tables: Tables, { titleId, scope }: PackOrder): Promise<void> {
  if (scope.kind === 'title') return;
  const part = await tables.titles.part(scope.partId);
  if (part?.titleId !== titleId) throw new Refusal('not-found', { what: 'part' });
  if (scope.kind !== 'page') return;
  const dummies = (await tables.files.ofPart(part.id)).filter(({ kind }) => kind === 'dummy');
  const counts = await Promise.all(dummies.map(async ({ sha256 }) => (await tables.pages.ofBlob(sha256))?.length ?? 0));
  if (!counts.some((count) => scope.dummyPage >= 1 && scope.dummyPage <= count)) {
    throw new Refusal('not-found', { what: `page ${scope.dummyPage} of a dummy` });
  }
}

function sourceOf({ facts, entries, statements }: Gathered): AccountSource {
  return {
    facts,
    entries: new Map(entries.map(({ kept, says }): [number, LogEntry] => [kept.index, says])),
    statements: new Map(
      statements.map(({ logIndex, bytes }): [number, Statement] => [logIndex, parseStatement(bytes)]),
    ),
  };
}

/** Pictures are named by the hash of their bytes. */
function blobOfPicture(member: string): string {
  return /([0-9a-f]{64})\.webp$/.exec(member)?.[1] ?? '';
}

async function wholeBlob({ blobs }: Pick<Archive, 'blobs'>, sha256: string): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  for await (const piece of blobs.read(sha256)) pieces.push(piece);
  return Buffer.concat(pieces);
}

/** What is streamed: files, where they are wanted, and reports. */
async function blobMembers(
  tables: Tables,
  { files, reports, facts }: Gathered,
  { contents }: PackOrder,
): Promise<readonly Member[]> {
  const pictures = [
    ...facts.reports.flatMap((report) => report.pictures.map(({ member }) => member)),
    ...facts.history.flatMap(({ states }) => states.flatMap(({ picture }) => (picture === null ? [] : [picture]))),
  ];
  const wanted = new Map<string, string>([
    ...pictures.map((member): [string, string] => [member, blobOfPicture(member)]),
    ...reports.map((report): [string, string] => [`${reportFolder(report)}/report.json`, report.sha256]),
    ...[
      ...facts.files.map(({ pageList }) => pageList),
      ...facts.reports.flatMap(({ folded }) => [folded?.book, folded?.plan]),
    ].flatMap((blob): [string, string][] => (blob?.member ? [[blob.member, blob.sha256]] : [])),
    ...(contents === 'files' ? files.map((file): [string, string] => [fileMember(file), file.sha256]) : []),
  ]);
  return Promise.all(
    [...wanted].map(async ([name, sha256]) => {
      const blob = await tables.blobs.get(sha256);
      if (blob === null) throw new Refusal('unreadable', { file: name, reason: 'its bytes are not in the archive' });
      return { name, sha256, blob: sha256, size: blob.bytes };
    }),
  );
}
