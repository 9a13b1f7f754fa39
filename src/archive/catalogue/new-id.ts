import { randomBytes } from 'node:crypto';

/** Digits and letters that are not mistaken for each other when read aloud. */
const SIGNS = '0123456789abcdefghjkmnpqrstvwxyz';

/** A name without meaning that cannot be guessed: 16 signs, 80 bits of chance. */
export function newId(): string {
  return Array.from(randomBytes(16), (byte) => SIGNS[byte % SIGNS.length]).join('');
}
