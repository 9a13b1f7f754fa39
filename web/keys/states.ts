import type { Tone } from '../pieces/notice.tsx';
import type { CertificateState } from './queries.ts';

/** How grave each state of a certificate is. */
export const CERTIFICATE_TONES: Readonly<Record<CertificateState, Tone>> = {
  introduced: 'look',
  awaiting: 'look',
  confirmed: 'well',
  revoked: 'stop',
};
