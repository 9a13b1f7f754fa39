import { joinBytes, Refusal } from '../model/index.ts';

/** @source OWASP ASVS 5.0 (2025), 6.2.1 */
const SHORTEST = 8;

/**
 * A passphrase that may guard a new key file.
 *
 * @throws {Refusal} malformed: fewer than 8 characters
 */
export function requirePassphrase(passphrase: string): string {
  const { length } = [...normal(passphrase)];
  if (length < SHORTEST) {
    throw new Refusal('malformed', {
      pointer: '/passphrase',
      expected: `at least ${SHORTEST} characters`,
      found: `${length}`,
    });
  }
  return passphrase;
}

/** For the cipher: UTF-8. @source RFC 8018 3: the encoding is left open, UTF-8 is what OpenSSL 3 takes */
export function passphraseUtf8(passphrase: string): Uint8Array<ArrayBuffer> {
  return new TextEncoder().encode(normal(passphrase));
}

/** For the check over the whole file: UTF-16, the high byte first, ended by a zero. @source RFC 7292 B.1 */
export function passphraseUtf16(passphrase: string): Uint8Array<ArrayBuffer> {
  const text = normal(passphrase);
  const units = Array.from({ length: text.length }, (_, at) => text.charCodeAt(at));
  return joinBytes([Uint8Array.from(units.flatMap((unit) => [unit >> 8, unit & 0xff])), new Uint8Array(2)]);
}

/** One keyboard sends é as one character, another as two: the same passphrase all the same. @source Unicode 15.1 (2023) 3.11 */
function normal(passphrase: string): string {
  return passphrase.normalize('NFC');
}
