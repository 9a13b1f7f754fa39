import type { TSTInfo } from 'pkijs';
import { failedChecks, Refusal, type Check, type Instant } from '../model/index.ts';
import { formatInstant } from './moment.ts';
import { formatHex } from './octets.ts';
import { OID } from './seal-form.ts';
import { isForTimeStamping, whyNotTrusted } from './time-stamp-authority.ts';
import { isTokenSignedBy, namesCertificate, namesContent, signerOf } from './time-stamp-signature.ts';
import { readToken, type ReadToken } from './time-stamp-token.ts';

/** What a time-stamp is checked against. */
export interface TimeStampClaim {
  /** As `tokenOfResponse` gives it. */
  readonly token: Uint8Array;
  /** SHA-256 of what was stamped: 32 bytes. */
  readonly hash: Uint8Array;
  /** That of the request, while it is at hand. */
  readonly nonce?: Uint8Array;
  /** Certificates in DER that the operator trusts: the authority's own, or of those who issue for it. */
  readonly trusted: readonly Uint8Array[];
}

/** What is looked at in a time-stamp, in the order of proof. */
export type TimeStampCheckName = 'imprint' | 'nonce' | SignerCheckName;

type SignerCheckName =
  'message-digest' | 'signing-certificate' | 'signature' | 'certificate-for-time-stamping' | 'authority-trusted';

/** What a time-stamp says, and what came of each check. */
export interface TimeStampAnswer {
  /** The moment that the authority names, its fraction of a second dropped. */
  readonly at: Instant;
  /** The number that the authority gave it, in hexadecimal. */
  readonly serial: string;
  readonly policy: string;
  readonly checks: readonly Check<TimeStampCheckName>[];
}

/**
 * Every check of a time-stamp token. Whether the authority's certificate was revoked is not asked.
 *
 * @throws {Refusal} unreadable: it is no token, or a trusted certificate is none
 * @source RFC 3161 2.3, 2.4.2; RFC 5816 2.2; RFC 5652 5.6
 */
export async function checkTimeStamp(claim: TimeStampClaim): Promise<TimeStampAnswer> {
  const token = readToken(claim.token);
  const { genTime, serialNumber, policy } = token.info;
  return {
    at: formatInstant(genTime),
    serial: formatHex(serialNumber.valueBlock.valueHexView),
    policy,
    checks: [
      imprintCheck(token.info, claim.hash),
      nonceCheck(token.info, claim.nonce),
      ...(await signerChecks(token, claim)),
    ],
  };
}

/**
 * The answer to a request of our own, if every check holds.
 *
 * @throws {Refusal} unproven: with each check that does not hold; unreadable: as `checkTimeStamp`
 */
export async function requireTimeStamp(
  claim: TimeStampClaim & { readonly nonce: Uint8Array },
): Promise<Omit<TimeStampAnswer, 'checks'>> {
  const { checks, ...answer } = await checkTimeStamp(claim);
  const failed = failedChecks(checks);
  if (failed.length > 0) throw new Refusal('unproven', { what: 'time-stamp', checks: failed });
  return answer;
}

function imprintCheck({ messageImprint }: TSTInfo, hash: Uint8Array): Check<TimeStampCheckName> {
  const algorithm = messageImprint.hashAlgorithm.algorithmId;
  const imprint = messageImprint.hashedMessage.valueBlock.valueHexView;
  const found = `${algorithm === OID.sha256 ? 'SHA-256' : algorithm} ${formatHex(imprint)}`;
  const expected = `SHA-256 ${formatHex(hash)}`;
  return check('imprint', found === expected, { expected, found });
}

/** As numbers: one that begins with zeros is written without them. */
function nonceCheck({ nonce }: TSTInfo, sent: Uint8Array | undefined): Check<TimeStampCheckName> {
  if (sent === undefined) return { name: 'nonce', outcome: 'not-checked', why: 'the request is not at hand' };
  const digits = (bytes: Uint8Array) => formatHex(bytes).replace(/^0+/, '');
  const expected = digits(sent);
  const found = nonce === undefined ? 'none' : digits(nonce.valueBlock.valueHexView);
  return check('nonce', expected === found, { expected, found });
}

async function signerChecks(token: ReadToken, { trusted }: TimeStampClaim): Promise<Check<SignerCheckName>[]> {
  const signer = signerOf(token.signed);
  if (signer === undefined) {
    const fault = { expected: 'one signer with its certificate', found: 'none, or several' };
    return SIGNER_CHECKS.map((name) => check(name, false, fault));
  }
  const { certificate } = signer;
  const distrust = await whyNotTrusted(certificate, { signed: token.signed, trusted, at: token.info.genTime });
  const otherwise = (expected: string, found = 'another') => ({ expected, found });
  const holds: Readonly<Record<SignerCheckName, readonly [boolean, { expected: string; found: string }]>> = {
    'message-digest': [await namesContent(signer, token), otherwise('the hash of what the token says')],
    'signing-certificate': [await namesCertificate(signer), otherwise('the hash of the signer’s certificate')],
    signature: [await isTokenSignedBy(signer), otherwise('a signature by the certificate’s key')],
    'certificate-for-time-stamping': [
      isForTimeStamping(certificate),
      otherwise('a certificate for time-stamps alone, marked critical', 'one for other uses'),
    ],
    'authority-trusted': [distrust === undefined, otherwise('a chain to a trusted certificate', distrust)],
  };
  return SIGNER_CHECKS.map((name) => check(name, ...holds[name]));
}

const SIGNER_CHECKS: readonly SignerCheckName[] = [
  'message-digest',
  'signing-certificate',
  'signature',
  'certificate-for-time-stamping',
  'authority-trusted',
];

function check<Name extends TimeStampCheckName>(
  name: Name,
  holds: boolean,
  fault: { readonly expected: string; readonly found: string },
): Check<Name> {
  return holds ? { name, outcome: 'holds' } : { name, outcome: 'fails', ...fault };
}
