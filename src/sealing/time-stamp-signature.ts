import { Certificate, type IssuerAndSerialNumber, type SignedData, type SignerInfo } from 'pkijs';
import { der, derOid, derUnsigned, TAG } from './der.ts';
import { formatHex, ownBytes, sameBytes } from './octets.ts';
import { membersOf, oidOf, readDer, requireTag, type DerValue } from './read-der.ts';
import { OID } from './seal-form.ts';
import { TST_INFO, type ReadToken } from './time-stamp-token.ts';
import { engine, subtle } from './web-crypto.ts';

/** The signature over a token, and the certificate inside whose key it names. */
export interface TokenSigner {
  readonly info: SignerInfo;
  readonly certificate: Certificate;
}

const NAME = 'time-stamp';
const EC_KEY = '1.2.840.10045.2.1';
const SIGNING_CERTIFICATE = '1.2.840.113549.1.9.16.2.12';

/** The one signer of a token; nothing where there are several, or the certificate is not inside. @source RFC 3161 2.4.2 */
export function signerOf({ signerInfos, certificates = [] }: SignedData): TokenSigner | undefined {
  const [info] = signerInfos;
  if (signerInfos.length !== 1 || info === undefined) return undefined;
  const { issuer, serialNumber } = info.sid as Partial<IssuerAndSerialNumber>;
  if (issuer === undefined || serialNumber === undefined) return undefined;
  const certificate = certificates
    .filter((one) => one instanceof Certificate)
    .find((one) => one.issuer.isEqual(issuer) && one.serialNumber.isEqual(serialNumber));
  return certificate && { info, certificate };
}

/** Whether the signed attributes are of a time-stamp and name the hash of what it says. @source RFC 5652 11.1, 11.2 */
export async function namesContent({ info }: TokenSigner, { infoBytes }: ReadToken): Promise<boolean> {
  const hash = hashOf(info.digestAlgorithm.algorithmId);
  if (hash === undefined) return false;
  const digest = new Uint8Array(await subtle.digest(hash, infoBytes));
  return (
    isAttribute(info, OID.contentType, derOid(TST_INFO)) &&
    isAttribute(info, OID.messageDigest, der(TAG.octetString, digest))
  );
}

/**
 * Whether the signed attributes name the certificate by its hash, so that no other one of the same key can be put in
 * its place. The older attribute, by SHA-1, is taken too: it only picks one of the certificates that are checked anyway.
 *
 * @source RFC 3161 2.4.2, RFC 5816 2.2.1, RFC 5035 3 and 4
 */
export async function namesCertificate({ info, certificate }: TokenSigner): Promise<boolean> {
  const own = new Uint8Array(certificate.toSchema().toBER());
  const newer = certificateId(info, OID.signingCertificateV2);
  const older = certificateId(info, SIGNING_CERTIFICATE);
  const [id, fallback] = newer === undefined ? [older, 'SHA-1'] : [newer, 'SHA-256'];
  if (id === undefined) return false;
  const named = id[0]?.tag === TAG.sequence ? hashOf(oidOf(membersOf(id[0], NAME)[0], NAME)) : fallback;
  const hash = id.find(({ tag }) => tag === TAG.octetString);
  if (named === undefined || hash === undefined) return false;
  return sameBytes(hash.content, new Uint8Array(await subtle.digest(named, own)));
}

/** Whether the certificate's key made the signature. @source RFC 5652 5.4, 5.6 */
export async function isTokenSignedBy({ info, certificate }: TokenSigner): Promise<boolean> {
  const hash = hashOf(info.digestAlgorithm.algorithmId);
  if (info.signedAttrs === undefined || hash === undefined) return false;
  try {
    if (certificate.subjectPublicKeyInfo.algorithm.algorithmId === EC_KEY) requireTwoNumbers(info);
    return await engine.verifyWithPublicKey(
      info.signedAttrs.encodedValue,
      info.signature,
      certificate.subjectPublicKeyInfo,
      info.signatureAlgorithm,
      hash,
    );
  } catch {
    // An algorithm that is not known, or one that is not the key's: whatever it is, it is no signature.
    return false;
  }
}

/** The library would also read other encodings of the same two numbers. */
function requireTwoNumbers({ signature }: SignerInfo): void {
  const numbers = membersOf(requireTag(readDer(signature.valueBlock.valueHexView, NAME), TAG.sequence, NAME), NAME);
  if (numbers.length !== 2) throw new TypeError('not two numbers');
  numbers.forEach((number) => {
    const { content } = requireTag(number, TAG.integer, NAME);
    if (!sameBytes(derUnsigned(content), number.bytes)) throw new TypeError('a number in another form');
  });
}

/** The members of the first ESSCertID, which is the signer's. */
function certificateId(info: SignerInfo, type: string): readonly DerValue[] | undefined {
  const value = attributeValue(info, type);
  const ids = value && membersOf(readDer(value, NAME), NAME)[0];
  const first = ids && membersOf(ids, NAME)[0];
  return first && membersOf(first, NAME);
}

function isAttribute(info: SignerInfo, type: string, value: Uint8Array): boolean {
  const found = attributeValue(info, type);
  return found !== undefined && formatHex(found) === formatHex(value);
}

/** The value of an attribute that is there once, with one value. */
function attributeValue({ signedAttrs }: SignerInfo, type: string): Uint8Array | undefined {
  const found = signedAttrs?.attributes.filter((one) => one.type === type) ?? [];
  const values = (found[0]?.values ?? []) as readonly { toBER: () => ArrayBuffer }[];
  return found.length === 1 && values.length === 1 ? ownBytes(new Uint8Array(values[0]!.toBER())) : undefined;
}

/** The hashes that an authority may sign with. */
function hashOf(oid: string): string | undefined {
  return { [OID.sha256]: 'SHA-256', '2.16.840.1.101.3.4.2.2': 'SHA-384', '2.16.840.1.101.3.4.2.3': 'SHA-512' }[oid];
}
