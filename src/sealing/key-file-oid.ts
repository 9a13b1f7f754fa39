/** Names of what a key file is made of. @source RFC 7292 4.2, Appendix D; RFC 2985 5.5 */
export const KEY_FILE_OID = {
  shroudedKey: '1.2.840.113549.1.12.10.1.2',
  certificate: '1.2.840.113549.1.12.10.1.3',
  x509: '1.2.840.113549.1.9.22.1',
  friendlyName: '1.2.840.113549.1.9.20',
  localKeyId: '1.2.840.113549.1.9.21',
  encryptedData: '1.2.840.113549.1.7.6',
} as const;
