import type { Statement } from '../../model/index.ts';
import type { FileKind, KeptStatement, SentFile, StatementSubject, Tables } from '../catalogue/index.ts';
import { signedHashOf } from '../files/whole-book.ts';
import { saidIn } from './kept-statement.ts';
import { afterAct, bothSigned, inForce, UNSIGNED, type PartAct, type PartLife, type Signature } from './part-life.ts';

/** Where a dummy stands: nobody or one side has signed it, it is the contract, or it is so no longer. */
export type DummyStanding = 'sent' | 'half-signed' | 'in-force' | 'replaced' | 'withdrawn';

/** A dummy of a part and who signed it. */
export interface DummyState {
  readonly file: SentFile;
  readonly standing: DummyStanding;
  /** Of those that count now: none where it was withdrawn. */
  readonly signatures: readonly Signature[];
}

/** A release of a plates input, by one side or both. */
export interface ReleaseState {
  readonly fileId: string;
  readonly dummyId: string;
  readonly reportId: string;
  /** Statements that it rests on. */
  readonly rulings: readonly string[];
  readonly signatures: readonly Signature[];
  /** Both have signed the same. */
  readonly isInForce: boolean;
  /** False where the dummy that it was compared with has been replaced since. */
  readonly isOnDummyInForce: boolean;
}

/** How a part stands. */
export interface PartState {
  /** In order of arrival. */
  readonly dummies: readonly DummyState[];
  readonly inForce: DummyState | null;
  /** Dummies that one side has signed to replace the one in force. */
  readonly replacements: readonly DummyState[];
  readonly releases: readonly ReleaseState[];
}

/** How a part stands, from what was stated on it. Of a part that is not there, nothing was. */
export async function partState(tables: Tables, partId: string): Promise<PartState> {
  const life = await partLife(tables, partId);
  const files = (await tables.files.ofPart(partId)).filter(({ kind }) => kind === 'dummy');
  const dummies = files.map((file) => stateOf(life, file));
  return {
    dummies,
    inForce: dummies.find(({ standing }) => standing === 'in-force') ?? null,
    replacements: inForce(life) === null ? [] : dummies.filter(({ standing }) => standing === 'half-signed'),
    releases: life.releases.map(({ act, signatures }) => ({
      fileId: act.fileId,
      dummyId: act.dummyId,
      reportId: act.reportId,
      rulings: act.rulings,
      signatures,
      isInForce: bothSigned(signatures),
      isOnDummyInForce: inForce(life)?.dummyId === act.dummyId,
    })),
  };
}

/** What the statements on a part have come to, in the order of the log. */
export async function partLife(tables: Tables, partId: string): Promise<PartLife> {
  let life = UNSIGNED;
  for (const kept of await tables.statements.ofPart(partId)) {
    const statement = saidIn(kept);
    const act = await actOf(tables, kept, statement);
    if (act !== null) life = afterAct(life, signatureOf(kept, statement), act);
  }
  return life;
}

/** A statement as a side's word. */
function signatureOf(kept: Pick<KeptStatement, 'id' | 'logIndex' | 'atMs'>, { signer }: Statement): Signature {
  return { party: signer.party, statementId: kept.id, logIndex: kept.logIndex, atMs: kept.atMs };
}

/** Statements name files and reports by their hashes; which rows were meant was noted when they came in. */
async function actOf(tables: Tables, kept: KeptStatement, statement: Statement): Promise<PartAct | null> {
  const { kind } = statement;
  if (kind === 'key-confirmation' || kind === 'revocation' || kind === 'ruling') return null;
  const subjects = await tables.statements.subjectsOf(kept.id);
  const files = (await Promise.all(idsOf(subjects, 'file').map((id) => tables.files.get(id)))).filter(
    (file) => file !== null,
  );
  const hashes = await Promise.all(files.map((file) => signedHashOf(tables, file)));
  // The same bytes may have been sent as dummy and, unchanged, for the plates.
  const idOf = (sha256: string, as: FileKind = 'dummy'): string =>
    files.find((file, index) => hashes[index] === sha256 && file.kind === as)?.id ?? 'none';
  switch (kind) {
    case 'sign-off':
      return { kind, dummyId: idOf(statement.subject.dummy.sha256) };
    case 'withdrawal':
      return { kind, dummyId: idOf(statement.subject.dummy) };
    case 'replacement':
      return {
        kind,
        inForceId: idOf(statement.subject.inForce),
        dummyId: idOf(statement.subject.dummy.sha256),
      };
    case 'release':
      return {
        kind,
        dummyId: idOf(statement.subject.dummy),
        fileId: idOf(statement.subject.platesInput.sha256, 'plates-input'),
        reportId: idsOf(subjects, 'report')[0] ?? 'none',
        rulings: statement.subject.rulings.toSorted(),
      };
  }
}

function idsOf(subjects: readonly StatementSubject[], kind: StatementSubject['kind']): readonly string[] {
  return subjects.filter((one) => one.kind === kind).map(({ subject }) => subject);
}

function stateOf(life: PartLife, file: SentFile): DummyState {
  const { id } = file;
  const contract = life.contracts.findLast(({ dummyId }) => dummyId === id);
  const half = life.halfSigned.get(id);
  if (life.withdrawn.has(id)) return { file, standing: 'withdrawn', signatures: [] };
  if (inForce(life)?.dummyId === id) return { file, standing: 'in-force', signatures: contract?.signatures ?? [] };
  if (half !== undefined) return { file, standing: 'half-signed', signatures: half };
  if (contract !== undefined) return { file, standing: 'replaced', signatures: contract.signatures };
  return { file, standing: 'sent', signatures: [] };
}
