import { Refusal } from '../model/index.ts';
import { readCertificate } from './certificate-facts.ts';
import { contextTag, TAG } from './der.ts';
import { keyFileCheck } from './key-file-check.ts';
import { KEY_FILE_OID } from './key-file-oid.ts';
import { ECDSA, RSA } from './key-pair.ts';
import { ownBytes, sameBytes } from './octets.ts';
import { decryptUnder, MOST_ROUNDS } from './passphrase-cipher.ts';
import { memberAt, membersOf, numberOf, oidOf, readDer, requireTag, type DerValue } from './read-der.ts';
import { OID } from './seal-form.ts';
import type { SigningKey } from './sign.ts';
import { subtle } from './web-crypto.ts';

/** A key that was opened: its certificate, its private half, which cannot be taken out again, and other certificates. */
export interface OpenedKey extends SigningKey {
  readonly issuers: readonly Uint8Array[];
}

const NAME = 'key file';

/**
 * Opens a PKCS#12 file that `makeKeyFile` made, or that OpenSSL 3 made with its own settings.
 *
 * @throws {Refusal} unreadable: another passphrase, no such file, a weaker protection, or not one key with its certificate
 * @throws {Refusal} too-large: more than ten million rounds
 * @source RFC 7292 4, 5.2
 */
export async function openKeyFile(bytes: Uint8Array, passphrase: string): Promise<OpenedKey> {
  const file = readDer(bytes, NAME);
  const content = contentOf(memberAt(file, [1], TAG.sequence, NAME));
  await requireCheck(content, memberAt(file, [2], TAG.sequence, NAME), passphrase);
  const bags: DerValue[] = [];
  for (const safe of membersOf(readDer(content, NAME), NAME)) bags.push(...(await bagsOf(safe, passphrase)));
  const keys = ofType(bags, KEY_FILE_OID.shroudedKey);
  if (keys.length !== 1) throw unreadable(`one private key expected, ${keys.length} found`);
  const [algorithm, encrypted] = membersOf(requireTag(keys[0], TAG.sequence, NAME), NAME);
  const secret = await decryptUnder(
    passphrase,
    requireTag(algorithm, TAG.sequence, NAME),
    requireTag(encrypted, TAG.octetString, NAME).content,
  );
  const certificates = ofType(bags, KEY_FILE_OID.certificate).map(
    (bag) => requireTag(membersOf(memberAt(bag, [1], contextTag(0), NAME), NAME)[0], TAG.octetString, NAME).content,
  );
  return pairUp(secret, certificates);
}

/** The certificate that the key belongs to is the one that verifies what the key signs. */
async function pairUp(secret: Uint8Array, certificates: readonly Uint8Array[]): Promise<OpenedKey> {
  const privateKey = await importKey(secret);
  const probe = new TextEncoder().encode(NAME);
  const signed = await subtle.sign(usage(privateKey), privateKey, probe);
  for (const certificate of certificates) {
    const spki = readCertificate(certificate).subjectPublicKeyInfo.toSchema().toBER();
    const how = privateKey.algorithm.name === RSA.name ? RSA : ECDSA;
    const publicKey = await subtle.importKey('spki', spki, how, false, ['verify']).catch(() => undefined);
    if (publicKey === undefined || !(await subtle.verify(usage(privateKey), publicKey, signed, probe))) continue;
    return { certificate, privateKey, issuers: certificates.filter((other) => other !== certificate) };
  }
  throw unreadable('no certificate in it belongs to its key');
}

function usage({ algorithm }: CryptoKey): { name: string; hash: string } {
  return { name: algorithm.name, hash: 'SHA-256' };
}

async function importKey(secret: Uint8Array): Promise<CryptoKey> {
  const kind = oidOf(memberAt(readDer(secret, NAME), [1, 0], TAG.objectIdentifier, NAME), NAME);
  try {
    return await subtle.importKey('pkcs8', ownBytes(secret), kind === RSA_KEY ? RSA : ECDSA, false, ['sign']);
  } catch (cause) {
    throw new Refusal('unreadable', { file: NAME, reason: 'its key is neither RSA nor ECDSA P-256' }, cause);
  }
}

const RSA_KEY = '1.2.840.113549.1.1.1';

/** Asked before anything is decrypted: a wrong passphrase and a changed byte look the same, and both stop here. */
async function requireCheck(content: Uint8Array, mac: DerValue, passphrase: string): Promise<void> {
  const hash = oidOf(memberAt(mac, [0, 0, 0], TAG.objectIdentifier, NAME), NAME);
  if (hash !== OID.sha256) throw unreadable(`its check is made with another hash than SHA-256 (${hash})`);
  const rounds = numberOf(membersOf(mac, NAME)[2], NAME);
  if (rounds > MOST_ROUNDS) {
    throw new Refusal('too-large', { what: NAME, limit: MOST_ROUNDS, found: rounds, unit: 'rounds' });
  }
  const salt = memberAt(mac, [1], TAG.octetString, NAME).content;
  const check = await keyFileCheck(content, passphrase, { salt, rounds });
  if (sameBytes(check, memberAt(mac, [0, 1], TAG.octetString, NAME).content)) return;
  throw unreadable('the passphrase does not open it, or the file is damaged');
}

async function bagsOf(safe: DerValue, passphrase: string): Promise<readonly DerValue[]> {
  const [type] = membersOf(safe, NAME);
  if (oidOf(type, NAME) !== KEY_FILE_OID.encryptedData) return membersOf(readDer(contentOf(safe), NAME), NAME);
  const encrypted = memberAt(safe, [1, 0, 1], TAG.sequence, NAME);
  const [, algorithm, bytes] = membersOf(encrypted, NAME);
  const plain = await decryptUnder(
    passphrase,
    requireTag(algorithm, TAG.sequence, NAME),
    requireTag(bytes, 0x80, NAME).content,
  );
  return membersOf(readDer(plain, NAME), NAME);
}

function contentOf(data: DerValue): Uint8Array {
  if (oidOf(membersOf(data, NAME)[0], NAME) !== OID.data) throw unreadable('it is not kept under a passphrase');
  return memberAt(data, [1, 0], TAG.octetString, NAME).content;
}

function ofType(bags: readonly DerValue[], type: string): readonly DerValue[] {
  return bags
    .filter((bag) => oidOf(membersOf(bag, NAME)[0], NAME) === type)
    .map((bag) => memberAt(bag, [1, 0], TAG.sequence, NAME));
}

function unreadable(reason: string): Refusal<'unreadable'> {
  return new Refusal('unreadable', { file: NAME, reason });
}
