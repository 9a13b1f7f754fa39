import { Refusal, type Party } from '../../model/index.ts';

/** A side's word on a dummy or a release: which statement says it. */
export interface Signature {
  readonly party: Party;
  readonly statementId: string;
  readonly logIndex: number;
  readonly atMs: number;
}

/** What a statement does to a part; files by their ids. */
export type PartAct =
  | { readonly kind: 'sign-off'; readonly dummyId: string }
  | { readonly kind: 'withdrawal'; readonly dummyId: string }
  | { readonly kind: 'replacement'; readonly inForceId: string; readonly dummyId: string }
  | {
      readonly kind: 'release';
      readonly dummyId: string;
      readonly fileId: string;
      readonly reportId: string;
      /** Statements, sorted. */
      readonly rulings: readonly string[];
    };

/** A dummy that is, or was, the contract: who signed it, and until when. */
export interface Contract {
  readonly dummyId: string;
  readonly signatures: readonly Signature[];
  /** Null for the first one; else the dummy that gave way. */
  readonly replacedId: string | null;
}

/** A release and who has signed it; in force with both. */
export interface Release {
  readonly act: PartAct & { readonly kind: 'release' };
  readonly signatures: readonly Signature[];
}

/** What the statements on a part have come to. */
export interface PartLife {
  /** One after the other; the last one is in force. */
  readonly contracts: readonly Contract[];
  /** Dummies that one side has signed: to be the first contract, or to replace the one in force. */
  readonly halfSigned: ReadonlyMap<string, readonly Signature[]>;
  /** By whom each was taken back. */
  readonly withdrawn: ReadonlyMap<string, Signature>;
  readonly releases: readonly Release[];
}

/** A part on which nothing was stated. */
export const UNSIGNED: PartLife = { contracts: [], halfSigned: new Map(), withdrawn: new Map(), releases: [] };

/** The dummy in force, or null. */
export function inForce(life: PartLife): Contract | null {
  return life.contracts.at(-1) ?? null;
}

/** Whether both sides have signed. */
export function bothSigned(signatures: readonly Signature[]): boolean {
  return new Set(signatures.map(({ party }) => party)).size === 2;
}

/**
 * Whether a side may do this to the part as it stands now.
 *
 * @throws {Refusal} out-of-step: what was named, and how it is
 */
export function requireAct(life: PartLife, party: Party, act: PartAct): void {
  const current = inForce(life);
  if (act.kind === 'release') {
    if (current?.dummyId !== act.dummyId) refuse('the dummy in force', act.dummyId, current?.dummyId ?? 'none');
    const release = life.releases.find((one) => isSameRelease(one.act, act));
    if (hasSigned(release?.signatures, party)) refuse('a release', act.fileId, `signed by the ${party} already`);
    return;
  }
  const { kind, dummyId } = act;
  if (life.withdrawn.has(dummyId)) refuse('the dummy', dummyId, 'withdrawn');
  if (current?.dummyId === dummyId) refuse('the dummy', dummyId, 'in force');
  if (kind === 'withdrawal') {
    if (life.contracts.some((one) => one.dummyId === dummyId))
      refuse('the dummy', dummyId, 'in force before, and replaced');
    return;
  }
  if (kind === 'sign-off' && current !== null) {
    refuse('a first dummy to sign', dummyId, `${current.dummyId} is in force and can only be replaced`);
  }
  if (kind === 'replacement' && current?.dummyId !== act.inForceId) {
    refuse('the dummy in force', act.inForceId, current?.dummyId ?? 'none');
  }
  if (hasSigned(life.halfSigned.get(dummyId), party)) refuse('the dummy', dummyId, `signed by the ${party} already`);
}

/** The part after a side has done this; what `requireAct` refuses must not come here. */
export function afterAct(life: PartLife, signature: Signature, act: PartAct): PartLife {
  if (act.kind === 'release') return { ...life, releases: withRelease(life.releases, signature, act) };
  const { dummyId } = act;
  const halfSigned = new Map(life.halfSigned);
  if (act.kind === 'withdrawal') {
    halfSigned.delete(dummyId);
    return { ...life, halfSigned, withdrawn: new Map(life.withdrawn).set(dummyId, signature) };
  }
  const signatures = [...(halfSigned.get(dummyId) ?? []), signature];
  if (!bothSigned(signatures)) return { ...life, halfSigned: halfSigned.set(dummyId, signatures) };
  // What was half signed was to replace the former contract, or to be it: with a new one all of that is past.
  const replacedId = inForce(life)?.dummyId ?? null;
  return { ...life, halfSigned: new Map(), contracts: [...life.contracts, { dummyId, signatures, replacedId }] };
}

function withRelease(releases: readonly Release[], signature: Signature, act: Release['act']): readonly Release[] {
  const known = releases.find((one) => isSameRelease(one.act, act));
  if (known === undefined) return [...releases, { act, signatures: [signature] }];
  return releases.map((one) => (one === known ? { act, signatures: [...one.signatures, signature] } : one));
}

/** Both must have signed the very same: the file, the report and the rulings that it rests on. */
function isSameRelease(one: Release['act'], other: Release['act']): boolean {
  return (
    one.dummyId === other.dummyId &&
    one.fileId === other.fileId &&
    one.reportId === other.reportId &&
    one.rulings.join() === other.rulings.join()
  );
}

function hasSigned(signatures: readonly Signature[] | undefined, party: Party): boolean {
  return signatures?.some((one) => one.party === party) ?? false;
}

function refuse(what: string, named: string, current: string): never {
  throw new Refusal('out-of-step', { what, named, current });
}
