import { BasicConstraints, Certificate, Extension, Time } from 'pkijs';
import { BitString, Integer, OctetString } from 'asn1js';
import { joinBytes, Refusal, type Instant } from '../model/index.ts';
import { readCertificate } from './certificate-facts.ts';
import { der, derSequence } from './der.ts';
import { distinguishedName, type PersonName } from './distinguished-name.ts';
import { sha256 } from './digest.ts';
import type { KeyPair } from './key-pair.ts';
import { dateOf } from './moment.ts';
import { ownBytes } from './octets.ts';
import { readDer } from './read-der.ts';
import { engine, randomBytes, subtle } from './web-crypto.ts';

/** What a certificate is made from. Without an issuer it is signed with its own key. */
export interface CertificateRequest {
  readonly person: PersonName;
  readonly keys: Pick<KeyPair, 'publicKey'> & Partial<Pick<KeyPair, 'privateKey'>>;
  readonly from: Instant;
  readonly until: Instant;
  /** The party's own authority: its certificate in DER and its key. */
  readonly issuer?: { readonly certificate: Uint8Array; readonly privateKey: CryptoKey };
  /** Whether it may issue certificates for others, and then signs nothing else. */
  readonly authority?: boolean;
}

/** Bits of KeyUsage, the first bit highest. @source RFC 5280 4.2.1.3 */
const SIGNING = Uint8Array.of(0b1100_0000);
const ISSUING = Uint8Array.of(0b0000_0110);

/**
 * A certificate for a person of a party, in DER.
 *
 * @throws {Refusal} malformed: a name or a moment does not fit, it ends before it begins, or no key signs it
 * @source RFC 5280 4.1, 4.2.1.2, 4.2.1.3, 4.2.1.9
 */
export async function makeCertificate(request: CertificateRequest): Promise<Uint8Array<ArrayBuffer>> {
  const { person, keys, from, until, issuer, authority = false } = request;
  const privateKey = issuer?.privateKey ?? keys.privateKey;
  if (privateKey === undefined) {
    throw new Refusal('malformed', { pointer: '/keys', expected: 'a private key or an issuer', found: 'neither' });
  }
  const [notBefore, notAfter] = [dateOf(from, '/from'), dateOf(until, '/until')];
  if (notAfter <= notBefore) {
    throw new Refusal('malformed', { pointer: '/until', expected: `later than ${from}`, found: until });
  }
  const certificate = new Certificate({ version: 2 });
  certificate.serialNumber = new Integer({ valueHex: newSerial().buffer });
  certificate.subject = distinguishedName(person);
  certificate.issuer = issuer === undefined ? certificate.subject : readCertificate(issuer.certificate).subject;
  certificate.notBefore = timeOf(notBefore);
  certificate.notAfter = timeOf(notAfter);
  await certificate.subjectPublicKeyInfo.importKey(keys.publicKey, engine);
  certificate.extensions = [
    ...(await extensionsFor(keys.publicKey, authority)),
    ...(issuer === undefined ? [] : issuedBy(issuer.certificate)),
  ];
  await certificate.sign(privateKey, 'SHA-256', engine);
  return new Uint8Array(certificate.toSchema(true).toBER());
}

/** 128 bits of chance, above zero. @source RFC 5280 4.1.2.2: unique, positive, at most 20 octets */
function newSerial(): Uint8Array<ArrayBuffer> {
  return joinBytes([Uint8Array.of(0x01), randomBytes(16)]);
}

function timeOf(value: Date): Time {
  return new Time({ type: value.getUTCFullYear() < 2050 ? 0 : 1, value });
}

async function extensionsFor(publicKey: CryptoKey, authority: boolean): Promise<Extension[]> {
  const constraints = new BasicConstraints(authority ? { cA: true } : {});
  const uses = new BitString({
    valueHex: ownBytes(authority ? ISSUING : SIGNING).buffer,
    unusedBits: authority ? 1 : 6,
  });
  const keyId = (await sha256(new Uint8Array(await subtle.exportKey('spki', publicKey)))).slice(0, 20);
  return [
    extension('2.5.29.19', true, constraints.toSchema().toBER()),
    extension('2.5.29.15', true, uses.toBER()),
    extension('2.5.29.14', false, new OctetString({ valueHex: keyId.buffer }).toBER()),
  ];
}

/** Points to the issuer's key, where its certificate gives that a name. @source RFC 5280 4.2.1.1 */
function issuedBy(issuer: Uint8Array): Extension[] {
  const keyId = readCertificate(issuer).extensions?.find(({ extnID }) => extnID === '2.5.29.14');
  if (keyId === undefined) return [];
  const { content } = readDer(keyId.extnValue.valueBlock.valueHexView, 'certificate');
  return [extension('2.5.29.35', false, derSequence(der(0x80, content)).buffer)];
}

function extension(extnID: string, critical: boolean, extnValue: ArrayBuffer): Extension {
  return new Extension({ extnID, critical, extnValue });
}
