import { failedChecks, Refusal, type Check, type Instant } from '../model/index.ts';
import { certificateFacts, readCertificate, type CertificateFacts } from './certificate-facts.ts';
import type { PersonName } from './distinguished-name.ts';
import { dateOf } from './moment.ts';
import { engine } from './web-crypto.ts';

/** What is looked at in a certificate before anybody is asked to confirm it. */
export type CertificateCheckName =
  | 'certificate-strong'
  | 'certificate-for-signing'
  | 'certificate-in-time'
  | 'certificate-signature'
  | 'certificate-person';

/**
 * Every check of a certificate that its party introduces.
 *
 * @param certificate  in DER
 * @param against  the moment, whom it is to be for, and the party's own authority where that issued it
 * @throws {Refusal} unreadable: no certificate; malformed: no moment
 * @source RFC 5280 6.1.3 (a); the choice of checks is common practice, no source
 */
export async function checkCertificate(
  certificate: Uint8Array,
  against: { readonly at: Instant; readonly person: PersonName; readonly issuer?: Uint8Array },
): Promise<readonly Check<CertificateCheckName>[]> {
  const facts = certificateFacts(certificate);
  const { at, person, issuer = certificate } = against;
  const inTime = dateOf(facts.from) <= dateOf(at) && dateOf(at) <= dateOf(facts.until);
  const [expected, found] = [person, facts].map(({ commonName, organisation }) => `${commonName}, ${organisation}`);
  return [
    check('certificate-strong', facts.strong, 'RSA of at least 3072 bits or ECDSA P-256', facts.key),
    check('certificate-for-signing', facts.maySign, 'a certificate for signing', 'one for other uses'),
    check('certificate-in-time', inTime, `from ${facts.from} to ${facts.until}`, at),
    check('certificate-signature', await isIssuedBy(certificate, issuer), 'its issuer’s signature', 'another'),
    check('certificate-person', expected === found, expected!, found!),
  ];
}

/**
 * What a certificate says, if every check of it holds.
 *
 * @throws {Refusal} unproven: with each check that does not hold; unreadable or malformed: as `checkCertificate`
 */
export async function requireSoundCertificate(
  ...given: Parameters<typeof checkCertificate>
): Promise<CertificateFacts> {
  const failed = failedChecks(await checkCertificate(...given));
  if (failed.length > 0) throw new Refusal('unproven', { what: 'certificate', checks: failed });
  return certificateFacts(given[0]);
}

async function isIssuedBy(certificate: Uint8Array, issuer: Uint8Array): Promise<boolean> {
  const [own, above] = [readCertificate(certificate), readCertificate(issuer)];
  if (!own.issuer.isEqual(above.subject)) return false;
  try {
    return await own.verify(above, engine);
  } catch {
    // An algorithm that the library does not know: whatever it is, it does not show who issued it.
    return false;
  }
}

function check(
  name: CertificateCheckName,
  holds: boolean,
  expected: string,
  found: string,
): Check<CertificateCheckName> {
  return holds ? { name, outcome: 'holds' } : { name, outcome: 'fails', expected, found };
}
