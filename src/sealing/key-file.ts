import { certificateFacts } from './certificate-facts.ts';
import { contextTag, der, derNumber, derOid, derSequence, derSet, TAG } from './der.ts';
import { sha256 } from './digest.ts';
import { keyFileCheck } from './key-file-check.ts';
import { encryptUnder } from './passphrase-cipher.ts';
import { requirePassphrase } from './passphrase.ts';
import { KEY_FILE_OID } from './key-file-oid.ts';
import { OID } from './seal-form.ts';
import { randomBytes, subtle } from './web-crypto.ts';

/** How often the passphrase is hashed, for the cipher and for the check alike. @source OWASP ASVS 5.0 (2025), Appendix C */
const KEY_FILE_ROUNDS = 600_000;

/**
 * A key and its certificate as a PKCS#12 file under a passphrase: AES-256, PBKDF2 and the check over the whole with
 * HMAC-SHA-256. The certificate is not secret and stands there openly. The private key must be one that may be taken out.
 *
 * @param certificate  in DER; those of its issuers may follow in `issuers`
 * @param rounds  fewer are for tests only
 * @throws {Refusal} malformed: a passphrase of fewer than 8 characters; unreadable: no certificate
 * @source RFC 7292 4, 5.1; judged by OpenSSL in test/standards/sealing
 */
export async function makeKeyFile(
  { certificate, privateKey, issuers = [] }: KeyFileContent,
  passphrase: string,
  rounds = KEY_FILE_ROUNDS,
): Promise<Uint8Array<ArrayBuffer>> {
  requirePassphrase(passphrase);
  const secret = new Uint8Array(await subtle.exportKey('pkcs8', privateKey));
  const { algorithm, bytes } = await encryptUnder(passphrase, secret, rounds);
  const attributes = await bagAttributes(certificate);
  const keyBag = bag(KEY_FILE_OID.shroudedKey, derSequence(algorithm, der(TAG.octetString, bytes)), attributes);
  const certificateBags = [certificateBag(certificate, attributes), ...issuers.map((one) => certificateBag(one))];
  const content = derSequence(dataOf(derSequence(...certificateBags)), dataOf(derSequence(keyBag)));
  const salt = randomBytes(16);
  const check = await keyFileCheck(content, passphrase, { salt, rounds });
  const digestInfo = derSequence(derSequence(derOid(OID.sha256), der(TAG.null)), der(TAG.octetString, check));
  const mac = derSequence(digestInfo, der(TAG.octetString, salt), derNumber(rounds));
  return derSequence(derNumber(3), dataOf(content), mac);
}

/** What goes into a key file. */
export interface KeyFileContent {
  readonly certificate: Uint8Array;
  readonly privateKey: CryptoKey;
  readonly issuers?: readonly Uint8Array[];
}

function dataOf(content: Uint8Array): Uint8Array {
  return derSequence(derOid(OID.data), der(contextTag(0), der(TAG.octetString, content)));
}

function certificateBag(certificate: Uint8Array, attributes?: Uint8Array): Uint8Array {
  const value = der(contextTag(0), der(TAG.octetString, certificate));
  return bag(KEY_FILE_OID.certificate, derSequence(derOid(KEY_FILE_OID.x509), value), attributes);
}

function bag(type: string, value: Uint8Array, attributes: Uint8Array = new Uint8Array()): Uint8Array {
  return derSequence(derOid(type), der(contextTag(0), value), attributes);
}

/** A name to show, and an id by which key and certificate belong together. @source RFC 2985 5.5.1, 5.5.2 */
async function bagAttributes(certificate: Uint8Array): Promise<Uint8Array> {
  const { commonName } = certificateFacts(certificate);
  const units = Array.from({ length: commonName.length }, (_, at) => commonName.charCodeAt(at));
  const name = der(TAG.bmpString, Uint8Array.from(units.flatMap((unit) => [unit >> 8, unit & 0xff])));
  const id = der(TAG.octetString, (await sha256(certificate)).subarray(0, 20));
  return derSet(
    derSequence(derOid(KEY_FILE_OID.friendlyName), derSet(name)),
    derSequence(derOid(KEY_FILE_OID.localKeyId), derSet(id)),
  );
}
