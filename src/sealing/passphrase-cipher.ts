import { Refusal } from '../model/index.ts';
import { der, derNumber, derOid, derSequence, TAG } from './der.ts';
import { ownBytes } from './octets.ts';
import { passphraseUtf8 } from './passphrase.ts';
import { memberAt, membersOf, numberOf, oidOf, requireTag, type DerValue } from './read-der.ts';
import { randomBytes, subtle } from './web-crypto.ts';

const PBES2 = '1.2.840.113549.1.5.13';
const PBKDF2 = '1.2.840.113549.1.5.12';
const HMAC_SHA256 = '1.2.840.113549.2.9';
const AES_256_CBC = '2.16.840.1.101.3.4.1.42';
const NAME = 'key file';

/** More would let a hostile file keep a computer busy for minutes. */
export const MOST_ROUNDS = 10_000_000;

/** Something encrypted under a passphrase: how, as an AlgorithmIdentifier in DER, and the encrypted bytes. */
export interface Encrypted {
  readonly algorithm: Uint8Array;
  readonly bytes: Uint8Array;
}

/** Encrypts under a passphrase: AES-256 with a key from PBKDF2. @source RFC 8018 6.2, A.2, A.4, B.1.2, B.2.5 */
export async function encryptUnder(passphrase: string, secret: Uint8Array, rounds: number): Promise<Encrypted> {
  const [salt, iv] = [randomBytes(16), randomBytes(16)];
  const key = await cipherKey({ passphrase, salt, rounds, use: 'encrypt' });
  const derivation = derSequence(
    der(TAG.octetString, salt),
    derNumber(rounds),
    derSequence(derOid(HMAC_SHA256), der(TAG.null)),
  );
  const scheme = derSequence(derOid(AES_256_CBC), der(TAG.octetString, iv));
  return {
    algorithm: derSequence(derOid(PBES2), derSequence(derSequence(derOid(PBKDF2), derivation), scheme)),
    bytes: new Uint8Array(await subtle.encrypt({ name: 'AES-CBC', iv }, key, ownBytes(secret))),
  };
}

/**
 * Decrypts what `encryptUnder` made, or another program in the same way.
 *
 * @throws {Refusal} unreadable: another way of encrypting, or the passphrase is not the one; too-large: too many rounds
 * @source RFC 8018 6.2.2
 */
export async function decryptUnder(passphrase: string, algorithm: DerValue, bytes: Uint8Array): Promise<Uint8Array> {
  const [scheme, parameters] = membersOf(algorithm, NAME);
  requireOid(scheme, PBES2);
  const both = requireTag(parameters, TAG.sequence, NAME);
  requireOid(memberAt(both, [0, 0], TAG.objectIdentifier, NAME), PBKDF2);
  requireOid(memberAt(both, [1, 0], TAG.objectIdentifier, NAME), AES_256_CBC);
  const derivation = membersOf(memberAt(both, [0, 1], TAG.sequence, NAME), NAME);
  const [salt, count] = derivation;
  // A key length may stand before it; without it the hash would be SHA-1.
  requireOid(membersOf(requireTag(derivation.at(-1), TAG.sequence, NAME), NAME)[0], HMAC_SHA256);
  const rounds = numberOf(count, NAME);
  if (rounds > MOST_ROUNDS) {
    throw new Refusal('too-large', { what: NAME, limit: MOST_ROUNDS, found: rounds, unit: 'rounds' });
  }
  const key = await cipherKey({
    passphrase,
    salt: requireTag(salt, TAG.octetString, NAME).content,
    rounds,
    use: 'decrypt',
  });
  const iv = memberAt(both, [1, 1], TAG.octetString, NAME).content;
  try {
    return new Uint8Array(await subtle.decrypt({ name: 'AES-CBC', iv: ownBytes(iv) }, key, ownBytes(bytes)));
  } catch (cause) {
    throw new Refusal('unreadable', { file: NAME, reason: 'the passphrase does not open it' }, cause);
  }
}

async function cipherKey(from: {
  readonly passphrase: string;
  readonly salt: Uint8Array;
  readonly rounds: number;
  readonly use: 'encrypt' | 'decrypt';
}): Promise<CryptoKey> {
  const base = await subtle.importKey('raw', passphraseUtf8(from.passphrase), 'PBKDF2', false, ['deriveKey']);
  const how = { name: 'PBKDF2', hash: 'SHA-256', salt: ownBytes(from.salt), iterations: from.rounds };
  return subtle.deriveKey(how, base, { name: 'AES-CBC', length: 256 }, false, [from.use]);
}

function requireOid(value: DerValue | undefined, wanted: string): void {
  const found = oidOf(value, NAME);
  if (found === wanted) return;
  throw new Refusal('unreadable', {
    file: NAME,
    reason: `it is encrypted in another way than with AES-256, PBKDF2 and HMAC-SHA-256 (${found})`,
  });
}
