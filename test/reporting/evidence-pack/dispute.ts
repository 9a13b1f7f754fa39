import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import {
  bringInParty,
  giveSight,
  introduceCertificate,
  openArchive,
  keepBytes,
  openPart,
  PAGE_RENDERER,
  openTitle,
  pageHashes,
  recorded,
  startTimeStamping,
  admitStatement,
  type Actor,
  type Archive,
  type Part,
  type SentFile,
  type TimeStampingOrder,
  type Title,
} from '../../../src/archive/index.ts';
import {
  CAUTIONS,
  DEFAULT_LIMITS,
  DEFAULT_TOLERANCES,
  type Report,
  type SignedFile,
  type Statement,
  type StatementOf,
} from '../../../src/model/index.ts';
import { formatReport } from '../../../src/reporting/index.ts';
import {
  fingerprintOf,
  makeCertificate,
  makeKeyPair,
  newStatementId,
  sha256Hex,
  signStatement,
  type KeyKind,
  type SigningKey,
} from '../../../src/sealing/index.ts';
import { hexOf } from '../../../src/ledger/index.ts';
import { scratchFolder } from '../../archive/scratch.ts';
import { writeBook, type SmallPage } from '../../archive/small-book.ts';

/** Noon on a day in 2031, and so many minutes later. */
export const minute = (count: number): number => Date.UTC(2031, 4, 2, 12) + 60_000 * count;

/** Somebody who acts and signs. */
export interface Signatory {
  readonly actor: Actor;
  readonly name: string;
  readonly organisation: string;
  readonly side: 'publisher' | 'printer';
  readonly key: SigningKey;
}

/** A title over which two parties disagree, in a real archive, with another title beside it. */
export interface Dispute {
  readonly folder: string;
  readonly archive: Archive;
  readonly editor: Signatory;
  readonly foreman: Signatory;
  readonly title: Title;
  readonly other: Title;
  readonly part: Part;
  readonly dummy: SentFile;
  readonly revision: SentFile;
  readonly report: Report | null;
}

const PAGES: readonly SmallPage[] = [
  { lines: ['A Winter’s Round', 'seen by nobody'] },
  { lines: ['The frozen canal'], tint: '#446688' },
  { lines: ['Colophon'] },
];

/** How far a dispute is played, and who stamps the heads of its log. */
export interface Play {
  /** `signed`: only until the dummy is in force. */
  readonly until?: 'signed';
  readonly authority?: Pick<TimeStampingOrder, 'trusted' | 'fetch'>;
}

/** Plays it: keys, a dummy signed by both, a revision with one word changed, one ruling that they do not share. */
export async function playDispute({ until, authority }: Play = {}): Promise<Dispute> {
  const folder = scratchFolder();
  const archive = await openArchive(join(folder, 'archive'), minute(0), { origin: 'archive.example/log' });
  const blattwerk = await bringInParty(
    archive,
    null,
    { party: 'Blattwerk Verlag', person: 'Anaïs Ödegård' },
    minute(1),
  );
  const publisher = { personId: blattwerk.person.id, partyId: blattwerk.party.id };
  const offizin = await bringInParty(archive, publisher, { party: 'Offizin Süd', person: 'Tomás Ó Néill' }, minute(2));
  const printer = { personId: offizin.person.id, partyId: offizin.party.id };
  const editor = await signatory(archive, publisher, 'publisher', 'ecdsa-p256');
  const foreman = await signatory(archive, printer, 'printer', 'rsa-3072');
  const sides = { publisherId: publisher.partyId, printerId: printer.partyId };
  const other = await openTitle(archive, publisher, { name: 'Secret Gardens', ...sides }, minute(4));
  const title = await openTitle(archive, publisher, { name: 'A Winter’s Round', ...sides }, minute(5));
  const part = await openPart(archive, publisher, { titleId: title.id, kind: 'book-block' }, minute(6));
  await openPart(archive, publisher, { titleId: other.id, kind: 'jacket' }, minute(6));
  const studio = await bringInParty(archive, publisher, { party: 'Studio Ruß', person: 'Lea' }, minute(7));
  await giveSight(archive, publisher, { titleId: title.id, partyId: studio.party.id }, minute(7));
  const scene = { folder, archive, editor, foreman, title, other, part };
  for (const [by, whose] of [
    [editor, foreman],
    [foreman, editor],
  ] as const) {
    await state(scene, by, await confirmation(whose));
  }
  const dummy = await send(scene, printer, { kind: 'dummy', name: 'block-dummy.pdf', remark: '', pages: PAGES });
  const dummySigned = await signedFile(scene, dummy);
  for (const by of [editor, foreman]) {
    const subject = { part: { id: part.id, name: 'Book block' }, dummy: dummySigned };
    await state(scene, by, { kind: 'sign-off', subject });
  }
  if (until === 'signed') return { ...scene, dummy, revision: dummy, report: null };
  const remark = 'colours converted, nothing else touched';
  const changed = PAGES.with(1, { lines: ['The frozen lake'], tint: '#446688' });
  const revision = await send(scene, printer, { kind: 'revision', name: 'block v2.pdf', remark, pages: changed });
  const report = reportOn(dummySigned, await signedFile(scene, revision));
  const kept = await keepReport(scene, { dummy, revision, report });
  await keepPictures(scene, { dummy, revision, reportId: kept.id });
  for (const [by, account] of [
    [editor, 'printers-error'],
    [foreman, 'authors-alteration'],
  ] as const) {
    const findings = [{ id: 'f1', says: report.findings[0]?.says ?? '' }];
    const about = { dummy: dummy.sha256, revision: revision.sha256, report: kept.sha256, findings };
    const subject = { part: { id: part.id, name: 'Book block' }, ...about, decision: 'to-be-put-right', account };
    await state(scene, by, { kind: 'ruling', subject } as Said);
  }
  if (authority !== undefined) {
    const url = 'http://time.example/stamp';
    const stamping = startTimeStamping(archive.catalogue, { ...authority, url, now: () => minute(90) });
    await stamping.look();
    await stamping.close();
  }
  return { ...scene, dummy, revision, report };
}

async function signatory(archive: Archive, actor: Actor, side: Signatory['side'], kind: KeyKind): Promise<Signatory> {
  const person = await archive.catalogue.people.get(actor.personId);
  const party = await archive.catalogue.parties.get(actor.partyId);
  const names = { commonName: person?.name ?? '', organisation: party?.name ?? '' };
  const keys = await makeKeyPair(kind);
  const term = { from: '2031-01-01T00:00:00Z', until: '2034-01-01T00:00:00Z' };
  const certificate = await makeCertificate({ person: names, keys, ...term });
  await introduceCertificate(archive, actor, certificate, minute(3));
  const key = { certificate, privateKey: keys.privateKey };
  return { actor, name: names.commonName, organisation: names.organisation, side, key };
}

type Scene = Pick<Dispute, 'folder' | 'archive' | 'title' | 'part'>;
type Said = { [K in Statement['kind']]: Pick<StatementOf<K>, 'kind' | 'subject'> }[Statement['kind']];

async function confirmation(whose: Signatory): Promise<Said> {
  const { name, organisation, side: party, key } = whose;
  const sha256 = await sha256Hex(key.certificate);
  const fingerprint = await fingerprintOf(key.certificate);
  return { kind: 'key-confirmation', subject: { sha256, fingerprint, party, name, organisation } };
}

let clock = 10;

/** Signs a statement on the newest head, and has it recorded. */
export async function state({ archive, title }: Scene, by: Signatory, said: Said): Promise<number> {
  const at = minute(clock++);
  const head = await archive.catalogue.log.latestCheckpoint();
  const statement = {
    type: 'witnessleaf-statement/1',
    id: newStatementId(),
    title: { id: title.id, name: title.name },
    signer: {
      party: by.side,
      name: by.name,
      organisation: by.organisation,
      certificate: await sha256Hex(by.key.certificate),
    },
    at: `${new Date(at).toISOString().slice(0, 19)}Z`,
    head: { origin: archive.identity.origin, size: head?.size ?? 0, root: hexOf(head?.rootHash ?? new Uint8Array()) },
    ...said,
  } as Statement;
  const { content, seal } = await signStatement(statement, by.key);
  const { logIndex } = await admitStatement(archive, by.actor, { content, seal }, at + 20_000);
  return logIndex;
}

async function send(
  { folder, archive, title, part }: Scene,
  actor: Actor,
  told: Pick<SentFile, 'kind' | 'name' | 'remark'> & { readonly pages: readonly SmallPage[] },
): Promise<SentFile> {
  const { kind, name, remark, pages } = told;
  const path = await writeBook(join(folder, name), pages);
  const at = minute(clock++);
  const { sha256, bytes } = await archive.blobs.put(
    (async function* () {
      yield readFileSync(path);
    })(),
  );
  const hashed = await pageHashes(path, DEFAULT_LIMITS);
  return recorded(archive, at, async (tables, log) => {
    await tables.blobs.add({ sha256, bytes, at });
    const kept = hashed.map(({ pageNumber, contentHash, trimmed }) => ({
      ...{ pageNumber, contentHash: contentHash ?? '' },
      ...{ widthMm: trimmed?.width ?? 0, heightMm: trimmed?.height ?? 0 },
    }));
    await tables.pages.add({ sha256, pages: kept, at });
    const senderId = actor.personId;
    const file = await tables.files.add({ partId: part.id, kind, name, remark, replaces: null, senderId, sha256, at });
    const subjects = [
      { what: 'file', id: file.id, sha256 },
      { what: 'part', id: part.id, sha256: null },
    ];
    await log({ kind: 'upload', titleId: title.id, by: actor, subjects, remark: `${kind}: ${name}; ${remark}` });
    return file;
  });
}

async function signedFile({ archive }: Scene, { sha256 }: SentFile): Promise<SignedFile> {
  const pages = (await archive.catalogue.pages.ofBlob(sha256)) ?? [];
  const bytes = (await archive.blobs.sizeOf(sha256)) ?? 0;
  return { sha256, bytes, pages: pages.map((page) => ('contentHash' in page ? page.contentHash : '')) };
}

function reportOn(dummy: SignedFile, revision: SignedFile): Report {
  const box = { x: 15, y: 15, width: 30, height: 5 };
  return {
    format: 'witnessleaf-report/1',
    dummy: { ...dummy, pages: dummy.pages.length },
    revision: { ...revision, pages: revision.pages.length },
    tolerances: DEFAULT_TOLERANCES,
    pages: [1, 2, 3].map((page) => ({
      ...{ dummyPage: page, revisionPage: page, state: page === 2 ? ('differs' as const) : ('same-content' as const) },
    })),
    findings: [
      {
        ...{ id: 'f1', kind: 'text-changed', weight: 'stop', dummyPage: 2, revisionPage: 2, box, revisionBox: box },
        measured: { before: 'The frozen canal', after: 'The frozen lake' },
        says: 'The words “The frozen canal” now read “The frozen lake”.',
      },
    ],
    verdict: 'differs',
    renderer: 'sample renderer 1',
    cautions: CAUTIONS,
  };
}

async function keepReport(
  { archive, title, part }: Scene,
  { dummy, revision, report }: { readonly dummy: SentFile; readonly revision: SentFile; readonly report: Report },
): Promise<{ readonly sha256: string; readonly id: string }> {
  const at = minute(clock++);
  const { sha256, bytes } = await archive.blobs.put(
    (async function* () {
      yield new TextEncoder().encode(formatReport(report));
    })(),
  );
  return recorded(archive, at, async (tables, log) => {
    await tables.blobs.add({ sha256, bytes, at });
    const terms = createHash('sha256').update('terms').digest('hex');
    const ids = { partId: part.id, dummyId: dummy.id, fileId: revision.id };
    const kept = await tables.reports.add({ ...ids, terms, verdict: 'differs', sha256, at });
    await tables.findings.note({
      ...{ partId: part.id, reportId: kept.id, identity: terms, kind: 'text-changed', dummyPage: 2, mark: 'f1' },
      ...{ weight: 'stop', at },
    });
    await log({ kind: 'report', titleId: title.id, by: null, subjects: [{ what: 'report', id: kept.id, sha256 }] });
    return { sha256, id: kept.id };
  });
}

/** Pictures as they are drawn for people: of the finding on both sides, and of the page in each file. */
async function keepPictures(
  { archive }: Scene,
  { dummy, revision, reportId }: { readonly dummy: SentFile; readonly revision: SentFile; readonly reportId: string },
): Promise<void> {
  const { catalogue, blobs } = archive;
  const draw = async (tint: string, width: number, height: number): Promise<{ sha256: string; bytes: number }> => {
    const blob = await keepBytes(blobs, await drawn(tint, width, height));
    await catalogue.blobs.add({ ...blob, at: minute(clock) });
    return blob;
  };
  const region = { x: 10, y: 10, width: 60, height: 20 };
  const exhibits = await Promise.all(
    (['dummy', 'revision', 'difference'] as const).map(async (side, index) => {
      const { sha256 } = await draw(['#446688', '#557788', '#b23c1e'][index] ?? '', 480, 160);
      return { mark: 'f1', side, region, widthPx: 480, heightPx: 160, sha256 };
    }),
  );
  await catalogue.pictures.addExhibits(reportId, exhibits);
  for (const [file, tint] of [
    [dummy, '#446688'],
    [revision, '#446699'],
  ] as const) {
    const page = (await catalogue.pages.ofBlob(file.sha256))?.[1];
    if (page === undefined || !('contentHash' in page)) continue;
    const { sha256 } = await draw(tint, 640, 768);
    const size = { contentHash: page.contentHash, widthPx: 640, heightPx: 768 };
    await catalogue.pictures.addPage({ ...size, renderer: PAGE_RENDERER, sha256 });
  }
}

/** A sheet with a tinted field on it, as WebP. */
async function drawn(tint: string, width: number, height: number): Promise<Uint8Array> {
  const field = { width: Math.round(width * 0.5), height: Math.round(height * 0.4), channels: 3 as const };
  const input = await sharp({ create: { ...field, background: tint } })
    .png()
    .toBuffer();
  const overlay = { input, left: Math.round(width * 0.2), top: Math.round(height * 0.3) };
  return sharp({ create: { width, height, channels: 3, background: '#ffffff' } })
    .composite([overlay])
    .webp()
    .toBuffer();
}
