import { formatCanonicalJson, Refusal, type Named, type ReleasedSide, type SignedFile } from '../../model/index.ts';
import type { FileKind, KeptReport, Part, Ruling, SentFile, StatementSubject, Tables } from '../catalogue/index.ts';
import { signedHashOf } from '../files/whole-book.ts';
import { partName } from '../titles/titles.ts';
import { releaseGround } from './hindrances.ts';
import { partyIdOf } from './key-subjects.ts';
import { inForce, requireAct, type PartLife } from './part-life.ts';
import { partLife } from './part-state.ts';
import { requireOwnWordSeen } from './own-word-seen.ts';
import { refuseSubject, requireSame } from './refuse-subject.ts';
import { releasedSheets } from './released-sheets.ts';
import { sentencesOf } from './report-said.ts';
import { requireSignedFile } from './signed-file.ts';
import type { FoundSubject, SubjectDesk, SubjectOf } from './subject-desk.ts';

/** A dummy that a side takes as the contract. */
export const signOffSubject: SubjectOf<'sign-off'> = async (desk, { signer, subject }) => {
  const { part, life } = await partOf(desk, subject.part);
  const dummy = await dummyNamed(desk.tables, part, life, subject.dummy);
  requireAct(life, signer.party, { kind: 'sign-off', dummyId: dummy.id });
  return about(part, [dummy]);
};

/**
 * A dummy that is taken back before it is in force, by the side that sent it or has signed it.
 *
 * @throws {Refusal} out-of-step, not-allowed, not-found: it is in force, is another side’s, or is not there
 */
export const withdrawalSubject: SubjectOf<'withdrawal'> = async (desk, { signer, subject }) => {
  const { part, life } = await partOf(desk, subject.part);
  const dummy = await dummyWithHash(desk.tables, part, life, subject.dummy);
  requireAct(life, signer.party, { kind: 'withdrawal', dummyId: dummy.id });
  const sender = await desk.tables.people.get(dummy.senderId);
  const isOwn = sender?.partyId === partyIdOf(desk.title, signer.party);
  const hasSigned = life.halfSigned.get(dummy.id)?.some(({ party }) => party === signer.party) ?? false;
  if (!isOwn && !hasSigned) {
    throw new Refusal('not-allowed', { what: 'withdraw the dummy', missing: 'having sent or signed it' });
  }
  return about(part, [dummy]);
};

/** A new dummy that is to take the place of the one in force. */
export const replacementSubject: SubjectOf<'replacement'> = async (desk, { signer, subject }) => {
  const { part, life } = await partOf(desk, subject.part);
  const former = await dummyInForce(desk.tables, life, subject.inForce);
  const dummy = await dummyNamed(desk.tables, part, life, subject.dummy);
  requireAct(life, signer.party, { kind: 'replacement', inForceId: former.id, dummyId: dummy.id });
  return about(part, [former, dummy]);
};

/**
 * Findings of a report on which a side rules, in the words of the report.
 *
 * @throws {Refusal} out-of-step: as `requireOwnWordSeen`
 */
export const rulingSubject: SubjectOf<'ruling'> = async (desk, { subject, signer, head }) => {
  const { tables, blobs } = desk;
  const { part, life } = await partOf(desk, subject.part);
  const dummy = await dummyInForce(tables, life, subject.dummy);
  const { file, report } = await reportNamed(tables, part, dummy, { sha256: subject.revision, report: subject.report });
  const reported = new Map((await tables.findings.inReport(report.id)).map(({ mark, finding }) => [mark, finding]));
  const sentences = await sentencesOf(blobs, report);
  const rulings = subject.findings.map(({ id, says }): Ruling => {
    const finding = reported.get(id) ?? refuseSubject('finding', 'one of the report', id);
    requireSame(`finding-${id}`, sentences.get(id) ?? '', says);
    return { findingId: finding.id, decision: subject.decision, account: subject.account };
  });
  const ids = rulings.map(({ findingId }) => findingId);
  if (new Set(ids).size < ids.length) refuseSubject('findings', 'each finding once', 'one of them twice');
  const own = { partId: part.id, partyId: partyIdOf(desk.title, signer.party), headSize: head.size };
  await requireOwnWordSeen(tables, own, rulings);
  return about(part, [dummy, file], { report, rulings });
};

/**
 * A plates input that may be made into plates, and what that rests on.
 *
 * @throws {Refusal} out-of-step, unsettled, not-found: another ground than it rests on now, open findings, or no such file
 */
export const releaseSubject: SubjectOf<'release'> = async (desk, { signer, subject }) => {
  const { tables } = desk;
  const { part, life } = await partOf(desk, subject.part);
  const dummy = await dummyInForce(tables, life, subject.dummy);
  const named = { sha256: subject.platesInput.sha256, report: subject.report };
  const { file, report } = await reportNamed(tables, part, dummy, named, 'plates-input');
  await requireSignedFile(tables, file, subject.platesInput);
  const sheets = await releasedSheets(desk, file, report);
  requireSame('subject-sheets', sheetsText(sheets), sheetsText(subject.sheets ?? null));
  const ground = await releaseGround(tables, file);
  if (ground.report.id !== report.id) refuse('the report', subject.report, ground.report.sha256);
  if (ground.open.length > 0) {
    throw new Refusal('unsettled', { what: 'release to plates', findings: ground.open.map(({ mark }) => mark) });
  }
  const rulings = subject.rulings.toSorted();
  if (rulings.join() !== ground.rulings.join()) {
    refuse('the rulings that the release rests on', rulings.join(', ') || 'none', ground.rulings.join(', ') || 'none');
  }
  requireAct(life, signer.party, { kind: 'release', dummyId: dummy.id, fileId: file.id, reportId: report.id, rulings });
  const rests = rulings.map((id) => ({ kind: 'statement', subject: id }) as const);
  return about(part, [dummy, file], { report, others: rests });
};

function sheetsText(sheets: readonly ReleasedSide[] | null): string {
  return sheets === null ? 'no sheets' : formatCanonicalJson(sheets);
}

/** The dummy with this hash that can still be signed: of the same bytes sent twice, the first that was not taken back. */
async function dummyWithHash(tables: Tables, part: Part, life: PartLife, sha256: string): Promise<SentFile> {
  const files = (await tables.files.ofPart(part.id)).filter((one) => one.kind === 'dummy' && one.sha256 === sha256);
  const open = files.find(({ id }) => !life.withdrawn.has(id)) ?? files.at(-1);
  return open ?? refuseSubject('subject-file', 'a dummy of this part', sha256);
}

async function dummyNamed(tables: Tables, part: Part, life: PartLife, signed: SignedFile): Promise<SentFile> {
  const dummy = await dummyWithHash(tables, part, life, signed.sha256);
  await requireSignedFile(tables, dummy, signed);
  return dummy;
}

async function dummyInForce(tables: Tables, life: PartLife, sha256: string): Promise<SentFile> {
  const contract = inForce(life);
  const dummy = contract && (await tables.files.get(contract.dummyId));
  if (dummy?.sha256 !== sha256) return refuse('the dummy in force', sha256, dummy?.sha256 ?? 'none');
  return dummy;
}

/** The file with this hash that has this report against the dummy in force. */
async function reportNamed(
  tables: Tables,
  part: Part,
  dummy: SentFile,
  named: { readonly sha256: string; readonly report: string },
  kind?: FileKind,
): Promise<{ readonly file: SentFile; readonly report: KeptReport }> {
  const files = await filesNamed(tables, part, named.sha256, kind);
  if (files.length === 0) return refuseSubject('subject-file', `a ${kind ?? 'file'} of this part`, named.sha256);
  for (const file of files) {
    const reports = await tables.reports.onFile(file.id);
    const report = reports.find((one) => one.sha256 === named.report && one.dummyId === dummy.id);
    if (report !== undefined) return { file, report };
  }
  return refuseSubject('subject-report', 'a report on this file and the dummy in force', named.report);
}

/** Files of a part with these bytes; of one kind, files that are signed under this hash. */
async function filesNamed(tables: Tables, part: Part, sha256: string, kind?: FileKind): Promise<readonly SentFile[]> {
  const all = await tables.files.ofPart(part.id);
  if (kind === undefined) return all.filter((one) => one.sha256 === sha256);
  const ofKind = all.filter((one) => one.kind === kind);
  const hashes = await Promise.all(ofKind.map((one) => signedHashOf(tables, one)));
  return ofKind.filter((_one, index) => hashes[index] === sha256);
}

/** The part that a statement names, by id and name, in the title that it names. */
async function partOf(
  { tables, title }: SubjectDesk,
  named: Named,
): Promise<{ readonly part: Part; readonly life: PartLife }> {
  const part = await tables.titles.part(named.id);
  if (part?.titleId !== title.id) return refuseSubject('part', 'a part of this title', named.id);
  requireSame('part-name', partName(part), named.name);
  return { part, life: await partLife(tables, part.id) };
}

function about(
  part: Part,
  files: readonly SentFile[],
  more: {
    readonly report?: KeptReport;
    readonly rulings?: readonly Ruling[];
    readonly others?: readonly StatementSubject[];
  } = {},
): FoundSubject {
  const { report, rulings = [], others = [] } = more;
  const ids = [...new Set(files.map(({ id }) => id))];
  return {
    part,
    subjects: [
      ...ids.map((subject) => ({ kind: 'file', subject }) as const),
      ...(report === undefined ? [] : [{ kind: 'report', subject: report.id } as const]),
      ...rulings.map(({ findingId }) => ({ kind: 'finding', subject: findingId }) as const),
      ...others,
    ],
    rulings,
  };
}

function refuse(what: string, named: string, current: string): never {
  throw new Refusal('out-of-step', { what, named, current });
}
