import { parseBase64 } from '../ledger/index.ts';
import { Refusal } from '../model/index.ts';
import { certificateFacts } from '../sealing/index.ts';

/**
 * The first certificate in a text of PEM, in DER.
 *
 * @throws {Refusal} unreadable: there is none
 * @source RFC 7468 2, 3
 */
export function certificateInPem(pem: string): Uint8Array {
  const found = /-----BEGIN CERTIFICATE-----([A-Za-z0-9+/=\s]+)-----END CERTIFICATE-----/.exec(pem);
  try {
    const der = parseBase64((found?.[1] ?? '').replace(/\s/g, ''), '/certificate');
    certificateFacts(der);
    return der;
  } catch (cause) {
    throw new Refusal('unreadable', { file: 'certificate', reason: 'it is not a certificate in PEM' }, cause);
  }
}
