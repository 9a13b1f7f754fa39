import { queryOptions } from '@tanstack/react-query';
import { readItems } from '../call/call.ts';

/** A certificate as the archive has it. */
export interface Certificate {
  /** SHA-256 of its bytes. */
  readonly id: string;
  readonly fingerprint: string;
  readonly party: string;
  readonly person: string;
  readonly name: string;
  readonly organisation: string;
  readonly introduced: string;
  readonly revokedFrom: string | null;
  /** Base64. */
  readonly der: string;
}

/** How a certificate stands with the other side. */
export type CertificateState = 'introduced' | 'awaiting' | 'confirmed' | 'revoked';

/** A certificate of one side of a title. */
export interface CertificateOfSide extends Certificate {
  readonly state: CertificateState;
}

/** The certificates of one's own party. */
export const certificatesQuery = queryOptions({
  queryKey: ['certificates'],
  queryFn: ({ signal }) => readItems<Certificate>('/api/certificates', signal),
});

/** The certificates of both sides of a title. */
export const titleCertificatesQuery = (titleId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'certificates'],
    queryFn: ({ signal }) => readItems<CertificateOfSide>(`/api/titles/${titleId}/certificates`, signal),
  });
