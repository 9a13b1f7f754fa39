import { Certificate, type RSAPublicKey } from 'pkijs';
import { Refusal, type Instant } from '../model/index.ts';
import { contextTag, TAG } from './der.ts';
import { personOf, type PersonName } from './distinguished-name.ts';
import { formatInstant } from './moment.ts';
import { formatHex, ownBytes } from './octets.ts';
import { membersOf, readDer, requireTag } from './read-der.ts';

/** How signatures name a certificate: its issuer and its serial number, both in DER. */
export interface IssuerAndSerial {
  readonly issuer: Uint8Array;
  readonly serial: Uint8Array;
}

/** What a person wants to know of a certificate. */
export interface CertificateFacts extends PersonName {
  readonly issuer: PersonName;
  /** In hexadecimal, as other programs show it. */
  readonly serial: string;
  readonly from: Instant;
  readonly until: Instant;
  /** `rsa-3072`, `ecdsa-p256`, or what else it is. */
  readonly key: string;
  /** Whether the key is of a kind and size that may sign statements. */
  readonly strong: boolean;
  /** Whether its uses allow signing. */
  readonly maySign: boolean;
}

const NAME = 'certificate';

/**
 * Reads a certificate in DER.
 *
 * @throws {Refusal} unreadable: it is none, or is not in the one form that DER allows
 * @source RFC 5280 4.1
 */
export function readCertificate(bytes: Uint8Array): Certificate {
  issuerAndSerial(bytes);
  try {
    const certificate = Certificate.fromBER(ownBytes(bytes).buffer);
    [certificate.notBefore, certificate.notAfter].forEach(({ value }) => value.toISOString());
    return certificate;
  } catch (cause) {
    throw new Refusal('unreadable', { file: NAME, reason: 'it is not a certificate' }, cause);
  }
}

/** How signatures name a certificate in DER. @throws {Refusal} unreadable: as `readCertificate` @source RFC 5280 4.1 */
export function issuerAndSerial(bytes: Uint8Array): IssuerAndSerial {
  const toBeSigned = requireTag(membersOf(readDer(bytes, NAME), NAME)[0], TAG.sequence, NAME);
  const members = membersOf(toBeSigned, NAME);
  const first = members[0]?.tag === contextTag(0) ? 1 : 0;
  return {
    serial: requireTag(members[first], TAG.integer, NAME).bytes,
    issuer: requireTag(members[first + 2], TAG.sequence, NAME).bytes,
  };
}

/** What a certificate in DER says. @throws {Refusal} as `readCertificate` */
export function certificateFacts(bytes: Uint8Array): CertificateFacts {
  const parsed = readCertificate(bytes);
  const key = keyOf(parsed);
  return {
    ...personOf(parsed.subject),
    issuer: personOf(parsed.issuer),
    serial: formatHex(parsed.serialNumber.valueBlock.valueHexView),
    from: formatInstant(parsed.notBefore.value),
    until: formatInstant(parsed.notAfter.value),
    ...key,
    maySign: maySign(parsed),
  };
}

function keyOf({ subjectPublicKeyInfo }: Certificate): { key: string; strong: boolean } {
  const algorithm: { readonly algorithmId: string; readonly algorithmParams?: unknown } =
    subjectPublicKeyInfo.algorithm;
  const { algorithmId, algorithmParams } = algorithm;
  if (algorithmId === '1.2.840.113549.1.1.1') {
    const modulus = (subjectPublicKeyInfo.parsedKey as RSAPublicKey | undefined)?.modulus.valueBlock.valueHexView;
    const bits = modulus === undefined ? 0 : bitsOf(modulus);
    return { key: `rsa-${bits}`, strong: bits >= 3072 };
  }
  if (algorithmId === '1.2.840.10045.2.1') {
    const curve = (
      algorithmParams as { valueBlock?: { toString?: () => string } } | undefined
    )?.valueBlock?.toString?.();
    return curve === '1.2.840.10045.3.1.7'
      ? { key: 'ecdsa-p256', strong: true }
      : { key: `ecdsa on curve ${String(curve)}`, strong: false };
  }
  return { key: algorithmId === '1.3.101.112' ? 'ed25519' : algorithmId, strong: false };
}

function bitsOf(number: Uint8Array): number {
  const first = number.findIndex((byte) => byte !== 0);
  return first < 0 ? 0 : (number.length - first) * 8 - Math.clz32(number[first]!) + 24;
}

/** Without the extension every use is allowed. @source RFC 5280 4.2.1.3: digitalSignature 0, nonRepudiation 1 */
function maySign({ extensions }: Certificate): boolean {
  const usage = extensions?.find(({ extnID }) => extnID === '2.5.29.15');
  if (usage === undefined) return true;
  const bits = readDer(usage.extnValue.valueBlock.valueHexView, NAME);
  return bits.tag === TAG.bitString && (bits.content[1]! & 0b1100_0000) !== 0;
}
