import { failedChecks, Refusal, type Check, type Instant, type Sha256 } from '../model/index.ts';
import { certificateFacts, readCertificate, type CertificateFacts } from './certificate-facts.ts';
import { sha256 } from './digest.ts';
import { ecdsaFromDer } from './ecdsa-signature.ts';
import { ECDSA, RSA } from './key-pair.ts';
import { dateOf } from './moment.ts';
import { formatHex, sameBytes } from './octets.ts';
import { attributeValue, readSeal, type ReadSeal } from './read-seal.ts';
import { attributesToSign, formatSeal, OID, sealAttributes } from './seal-form.ts';
import { subtle } from './web-crypto.ts';

/** A certificate that the parties pinned, and from when on its owner has taken it back. */
export interface PinnedCertificate {
  readonly certificate: Uint8Array;
  readonly revokedFrom?: Instant;
}

/** What a seal is checked against. */
export interface SealClaim {
  readonly content: Uint8Array;
  readonly seal: Uint8Array;
  readonly pinned: readonly PinnedCertificate[];
  /** The moment that the content says it was signed at. */
  readonly at: Instant;
  /** When the seal came in. A revocation counts against this, because a thief writes any signing time. */
  readonly receivedAt: Instant;
}

/** What is looked at in a seal, in the order of proof. */
export type SealCheckName =
  | 'form'
  | 'certificate-pinned'
  | 'certificate-strong'
  | 'certificate-for-signing'
  | 'certificate-in-time'
  | 'certificate-not-revoked'
  | 'content-type'
  | 'message-digest'
  | 'signing-time'
  | 'signing-certificate'
  | 'signature';

/** What came of each check, and whose certificate it is where one is pinned. */
export interface SealAnswer {
  readonly checks: readonly Check<SealCheckName>[];
  readonly signer?: CertificateFacts;
  /** SHA-256 of the certificate inside, pinned or not, where there is one. */
  readonly certificate?: Sha256;
}

const AFTER_FORM: readonly SealCheckName[] = [
  'certificate-pinned',
  'certificate-strong',
  'certificate-for-signing',
  'certificate-in-time',
  'certificate-not-revoked',
  'content-type',
  'message-digest',
  'signing-time',
  'signing-certificate',
  'signature',
];

/**
 * Every check of a detached signature, each with its own answer.
 *
 * @throws {Refusal} malformed: a moment is none; unreadable: a pinned certificate is none
 * @source RFC 5652 5.6, RFC 5035 5, RFC 5280 4.1.2.5; the choice of checks is common practice, no source
 */
export async function checkSeal(claim: SealClaim): Promise<SealAnswer> {
  const seal = partsOf(claim.seal);
  if ('fault' in seal)
    return { checks: [failing('form', 'a detached CMS signature in DER', seal.fault), ...unchecked()] };
  const pin = claim.pinned.find(({ certificate }) => sameBytes(certificate, seal.certificate));
  const facts = certificateFacts(seal.certificate);
  const certificateHash = await sha256(seal.certificate);
  const contentHash = await sha256(claim.content);
  const wanted = sealAttributes({ certificate: seal.certificate, certificateHash, contentHash, at: dateOf(claim.at) });
  const [type, digest, time, certificate] = wanted;
  const attribute = (name: SealCheckName, oid: string, expected: Uint8Array | undefined): Check<SealCheckName> => {
    const found = attributeValue(seal.attributes, oid);
    const right = attributeValue([expected!], oid)!;
    if (found !== undefined && sameBytes(found, right)) return { name, outcome: 'holds' };
    return failing(name, formatHex(right), found === undefined ? 'none, or more than one' : formatHex(found));
  };
  const checks: Check<SealCheckName>[] = [
    check('form', seal.isExact, 'a signature in its one form, with four attributes', 'something that reads otherwise'),
    check('certificate-pinned', pin !== undefined, 'a pinned certificate', `SHA-256 ${formatHex(certificateHash)}`),
    check('certificate-strong', facts.strong, 'RSA of at least 3072 bits or ECDSA P-256', facts.key),
    check('certificate-for-signing', facts.maySign, 'a certificate for signing', 'one for other uses'),
    check('certificate-in-time', isBetween(claim.at, facts), `from ${facts.from} to ${facts.until}`, claim.at),
    notRevoked(pin, claim.receivedAt),
    attribute('content-type', OID.contentType, type),
    attribute('message-digest', OID.messageDigest, digest),
    attribute('signing-time', OID.signingTime, time),
    attribute('signing-certificate', OID.signingCertificateV2, certificate),
    check('signature', await isSignedBy(seal), "a signature by the certificate's key", 'another'),
  ];
  return { checks, certificate: formatHex(certificateHash), ...(pin === undefined ? {} : { signer: facts }) };
}

/**
 * The signer of a seal, if every check holds.
 *
 * @throws {Refusal} unproven: with each check that does not hold; malformed: a moment is none
 */
export async function requireSeal(claim: SealClaim): Promise<CertificateFacts> {
  const { checks, signer } = await checkSeal(claim);
  const failed = failedChecks(checks);
  if (failed.length > 0 || signer === undefined) throw new Refusal('unproven', { what: 'signature', checks: failed });
  return signer;
}

function partsOf(bytes: Uint8Array): (ReadSeal & { isExact: boolean }) | { fault: string } {
  try {
    const seal = readSeal(bytes);
    const { algorithm } = seal;
    // Every attribute is read here, so that a damaged one is a fault of form and not a refusal on the way.
    const known = [OID.contentType, OID.messageDigest, OID.signingTime, OID.signingCertificateV2].filter(
      (oid) => attributeValue(seal.attributes, oid) !== undefined,
    );
    certificateFacts(seal.certificate);
    const isWhole = known.length === seal.attributes.length;
    return {
      ...seal,
      isExact: algorithm !== 'another' && isWhole && sameBytes(formatSeal({ ...seal, algorithm }), bytes),
    };
  } catch (error) {
    if (error instanceof Refusal) return { fault: error.message };
    throw error;
  }
}

/** Whether the key of the certificate inside made the signature; that the certificate is the right one is another check. */
async function isSignedBy({ certificate, attributes, algorithm, signature }: ReadSeal): Promise<boolean> {
  const spki = readCertificate(certificate).subjectPublicKeyInfo.toSchema().toBER();
  const signed = attributesToSign(attributes);
  try {
    if (algorithm === 'sha256WithRsa') {
      const key = await subtle.importKey('spki', spki, RSA, false, ['verify']);
      return await subtle.verify(RSA, key, new Uint8Array(signature), signed);
    }
    if (algorithm === 'another') return false;
    const key = await subtle.importKey('spki', spki, ECDSA, false, ['verify']);
    return await subtle.verify({ ...ECDSA, hash: 'SHA-256' }, key, ecdsaFromDer(signature), signed);
  } catch {
    // A key of another kind than the algorithm wants, or numbers that are none: whatever it is, it is no signature.
    return false;
  }
}

function notRevoked(pin: PinnedCertificate | undefined, receivedAt: Instant): Check<SealCheckName> {
  const name = 'certificate-not-revoked';
  if (pin === undefined) return { name, outcome: 'not-checked', why: 'the certificate is not pinned' };
  const { revokedFrom } = pin;
  const holds = revokedFrom === undefined || dateOf(receivedAt) < dateOf(revokedFrom);
  return check(name, holds, `received before ${String(revokedFrom)}`, receivedAt);
}

function isBetween(at: Instant, { from, until }: CertificateFacts): boolean {
  return dateOf(from) <= dateOf(at) && dateOf(at) <= dateOf(until);
}

function check(name: SealCheckName, holds: boolean, expected: string, found: string): Check<SealCheckName> {
  return holds ? { name, outcome: 'holds' } : failing(name, expected, found);
}

function failing(name: SealCheckName, expected: string, found: string): Check<SealCheckName> {
  return { name, outcome: 'fails', expected, found };
}

function unchecked(): Check<SealCheckName>[] {
  return AFTER_FORM.map((name) => ({ name, outcome: 'not-checked', why: 'the signature cannot be read' }));
}
