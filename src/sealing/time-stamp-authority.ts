import { Certificate, CertificateChainValidationEngine, type SignedData } from 'pkijs';
import { readCertificate } from './certificate-facts.ts';
import { derOid, derSequence } from './der.ts';
import { sameBytes } from './octets.ts';
import { engine } from './web-crypto.ts';

const EXTENDED_KEY_USAGE = '2.5.29.37';
const TIME_STAMPING = '1.3.6.1.5.5.7.3.8';

/** Whether a certificate is for time-stamps and for nothing else, and says so under obligation. @source RFC 3161 2.3 */
export function isForTimeStamping({ extensions }: Certificate): boolean {
  const uses = extensions?.filter(({ extnID }) => extnID === EXTENDED_KEY_USAGE) ?? [];
  const only = derSequence(derOid(TIME_STAMPING));
  return uses.length === 1 && uses[0]!.critical && sameBytes(uses[0]!.extnValue.valueBlock.valueHexView, only);
}

/**
 * Why a certificate is not one that the operator trusts at a moment, directly or through those who issued it; nothing
 * to say where it is.
 *
 * @throws {Refusal} unreadable: a trusted certificate is none
 * @source RFC 5280 6.1, without revocation and policies
 */
export async function whyNotTrusted(
  certificate: Certificate,
  from: {
    readonly signed: SignedData;
    /** In DER. */
    readonly trusted: readonly Uint8Array[];
    readonly at: Date;
  },
): Promise<string | undefined> {
  const { at, signed } = from;
  const own = bytesOf(certificate);
  if (certificate.notBefore.value > at || certificate.notAfter.value < at)
    return 'a certificate not valid at that moment';
  if (from.trusted.some((one) => sameBytes(one, own))) return undefined;
  const inside = (signed.certificates ?? []).filter((one) => one instanceof Certificate);
  const chain = new CertificateChainValidationEngine({
    trustedCerts: from.trusted.map((one) => readCertificate(one)),
    // The library takes the last one for the one whose chain is looked for.
    certs: [...inside.filter((one) => !sameBytes(bytesOf(one), own)), certificate],
    checkDate: at,
  });
  const { result, resultMessage } = await chain.verify({}, engine);
  return result ? undefined : `none (${resultMessage})`;
}

function bytesOf(certificate: Certificate): Uint8Array {
  return new Uint8Array(certificate.toSchema().toBER());
}
