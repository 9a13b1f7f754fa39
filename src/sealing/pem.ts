/**
 * A certificate or another value in DER as text, as `openssl` reads it without being told.
 *
 * @param label  `CERTIFICATE`
 * @source RFC 7468 2, 3
 */
export function formatPem(label: string, bytes: Uint8Array): string {
  const base64 = btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
  return `-----BEGIN ${label}-----\n${base64.match(/.{1,64}/g)!.join('\n')}\n-----END ${label}-----\n`;
}
