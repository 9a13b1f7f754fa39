import { issuerAndSerial } from './certificate-facts.ts';
import { contextTag, der, derNumber, derOid, derSequence, derSet, derTime, TAG } from './der.ts';

/** Names of what a seal is made of. @source RFC 5652 4, 5.1, 11; RFC 5035 3; RFC 5754 2.2, 3.2, 3.3 */
export const OID = {
  data: '1.2.840.113549.1.7.1',
  signedData: '1.2.840.113549.1.7.2',
  contentType: '1.2.840.113549.1.9.3',
  messageDigest: '1.2.840.113549.1.9.4',
  signingTime: '1.2.840.113549.1.9.5',
  signingCertificateV2: '1.2.840.113549.1.9.16.2.47',
  sha256: '2.16.840.1.101.3.4.2.1',
  sha256WithRsa: '1.2.840.113549.1.1.11',
  ecdsaWithSha256: '1.2.840.10045.4.3.2',
} as const;

/** What a signature says beside its content. */
export interface SignedAttributes {
  readonly certificate: Uint8Array;
  readonly certificateHash: Uint8Array;
  readonly contentHash: Uint8Array;
  /** Null where the moment stands elsewhere, as in a PDF file. */
  readonly at: Date | null;
}

/** The parts that differ from one seal to the next; everything else in it is fixed. */
export interface SealParts {
  readonly certificate: Uint8Array;
  /** The members of the signed attributes, each in DER. */
  readonly attributes: readonly Uint8Array[];
  readonly algorithm: SealAlgorithm;
  /** As the format has it: for ECDSA a sequence of r and s. */
  readonly signature: Uint8Array;
}

/** With which algorithm a seal is signed. */
export type SealAlgorithm = 'sha256WithRsa' | 'ecdsaWithSha256';

/** The attributes that every seal has, each in DER; of the four, only the moment may be missing. @source RFC 5652 11.1 to 11.3, RFC 5035 3 */
export function sealAttributes(signed: SignedAttributes): readonly Uint8Array[] {
  const { issuer, serial } = issuerAndSerial(signed.certificate);
  const issuerSerial = derSequence(derSequence(der(contextTag(4), issuer)), serial);
  // SHA-256 is the default of ESSCertIDv2, and DER leaves a default out.
  const certificateId = derSequence(der(TAG.octetString, signed.certificateHash), issuerSerial);
  return [
    attribute(OID.contentType, derOid(OID.data)),
    attribute(OID.messageDigest, der(TAG.octetString, signed.contentHash)),
    ...(signed.at === null ? [] : [attribute(OID.signingTime, derTime(signed.at))]),
    attribute(OID.signingCertificateV2, derSequence(derSequence(certificateId))),
  ];
}

/** The bytes that are signed: the attributes as a set, not under the tag they have in the file. @source RFC 5652 5.4 */
export function attributesToSign(attributes: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  return derSet(...attributes);
}

/** A detached signature with one signer, in DER. @source RFC 5652 3, 5.1, 5.3 */
export function formatSeal({ certificate, attributes, algorithm, signature }: SealParts): Uint8Array<ArrayBuffer> {
  const { issuer, serial } = issuerAndSerial(certificate);
  const sha256 = derSequence(derOid(OID.sha256));
  const signedAttributes = attributesToSign(attributes);
  signedAttributes[0] = contextTag(0);
  const signerInfo = derSequence(
    derNumber(1),
    derSequence(issuer, serial),
    sha256,
    signedAttributes,
    algorithmIdentifier(algorithm),
    der(TAG.octetString, signature),
  );
  const signedData = derSequence(
    derNumber(1),
    derSet(sha256),
    derSequence(derOid(OID.data)),
    der(contextTag(0), certificate),
    derSet(signerInfo),
  );
  return derSequence(derOid(OID.signedData), der(contextTag(0), signedData));
}

/** RSA has a NULL for its parameters, ECDSA none. @source RFC 5754 3.2, 3.3 */
function algorithmIdentifier(algorithm: SealAlgorithm): Uint8Array {
  return algorithm === 'sha256WithRsa'
    ? derSequence(derOid(OID.sha256WithRsa), der(TAG.null))
    : derSequence(derOid(OID.ecdsaWithSha256));
}

function attribute(type: string, value: Uint8Array): Uint8Array {
  return derSequence(derOid(type), derSet(value));
}
