import { Refusal, type Party } from '../../model/index.ts';
import { certificateFacts, fingerprintOf } from '../../sealing/index.ts';
import { certificateState } from '../certificates/certificate-state.ts';
import type { KeptCertificate, Tables, Title } from '../catalogue/index.ts';
import { refuseSubject, requireSame } from './refuse-subject.ts';
import type { SubjectOf } from './subject-desk.ts';

/** How far back or ahead of the archive’s clock people’s clocks may be: as much as a computer without time service drifts. */
export const CLOCK_TOLERANCE_MS = 5 * 60_000;

/** A certificate of the other side, which this side takes as that person's. */
export const confirmationSubject: SubjectOf<'key-confirmation'> = async (desk, { signer, subject }) => {
  const { tables, title, at } = desk;
  const certificate = await certificateNamed(tables, subject);
  const [own, other] = [partyIdOf(title, signer.party), otherSide(signer.party)];
  requireSame('subject-party', other, subject.party);
  if (certificate.partyId !== partyIdOf(title, other)) refuseSubject('certificate', `one of the ${other}`, 'another’s');
  const { commonName, organisation } = certificateFacts(certificate.der);
  requireSame('subject-name', `${commonName}, ${organisation}`, `${subject.name}, ${subject.organisation}`);
  const state = await certificateState(tables, certificate, own, at);
  // A revocation that is to come counts here too: nobody confirms what is already given up.
  const isGivenUp = certificate.revocation !== null;
  if (state === 'confirmed' || isGivenUp) {
    refuse('the certificate', subject.fingerprint, isGivenUp ? 'revoked' : `confirmed by the ${signer.party} already`);
  }
  return {
    part: null,
    subjects: [{ kind: 'certificate', subject: subject.sha256 }],
    rulings: [],
    follow: (statementId) => tables.certificates.confirm({ fingerprint: subject.sha256, byPartyId: own, statementId }),
  };
};

/**
 * A certificate of one's own side that is given up from a moment on. The moment may lie ahead, but not behind: what was
 * received before a revocation stays valid, whatever moment it names.
 */
export const revocationSubject: SubjectOf<'revocation'> = async (desk, { signer, subject }) => {
  const { tables, title, at } = desk;
  const certificate = await certificateNamed(tables, subject);
  const own = partyIdOf(title, signer.party);
  if (certificate.partyId !== own) refuseSubject('certificate', `one of the ${signer.party}`, 'another’s');
  const fromMs = Date.parse(subject.from);
  if (fromMs < at - CLOCK_TOLERANCE_MS) refuse('the moment of revocation', subject.from, new Date(at).toISOString());
  const { revocation } = certificate;
  if (revocation !== null && revocation.fromMs <= fromMs) {
    refuse(
      'the certificate',
      subject.fingerprint,
      `revoked from ${new Date(revocation.fromMs).toISOString()} on already`,
    );
  }
  return {
    part: null,
    subjects: [{ kind: 'certificate', subject: subject.sha256 }],
    rulings: [],
    follow: (statementId) => tables.certificates.revoke({ fingerprint: subject.sha256, statementId, fromMs }),
  };
};

/** The other side of a title. */
export function otherSide(party: Party): Party {
  return party === 'publisher' ? 'printer' : 'publisher';
}

/** The party on this side of a title. */
export function partyIdOf(title: Pick<Title, 'publisherId' | 'printerId'>, party: Party): string {
  return party === 'publisher' ? title.publisherId : title.printerId;
}

async function certificateNamed(
  tables: Tables,
  named: { readonly sha256: string; readonly fingerprint: string },
): Promise<KeptCertificate> {
  const certificate = await tables.certificates.get(named.sha256);
  if (certificate === null) return refuseSubject('certificate', 'one that was introduced', named.sha256);
  requireSame('fingerprint', await fingerprintOf(certificate.der), named.fingerprint);
  return certificate;
}

function refuse(what: string, named: string, current: string): never {
  throw new Refusal('out-of-step', { what, named, current });
}
