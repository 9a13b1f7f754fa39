import { createHash, randomBytes } from 'node:crypto';

/** 256 bits of chance as text that fits into a link, a cookie and a header. */
export function newSecret(): string {
  return randomBytes(32).toString('base64url');
}

/** What is kept of a secret: its SHA-256 in hexadecimal. With so much chance in it, a fast hash is enough. */
export function hashOfSecret(secret: string): string {
  return createHash('sha256').update(secret, 'utf8').digest('hex');
}
