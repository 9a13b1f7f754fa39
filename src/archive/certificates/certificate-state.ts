import type { KeptCertificate, Tables } from '../catalogue/index.ts';

/**
 * How a certificate stands with another party: `introduced` by its own; `awaiting`, where the other has confirmed it, but
 * with a key that its own party has not confirmed in turn; `confirmed`; or `revoked` from a moment on.
 */
export type CertificateState = 'introduced' | 'awaiting' | 'confirmed' | 'revoked';

/**
 * How a certificate stands with another party at a moment. The very first keys of two parties confirm each other, so a
 * confirmation may be signed with a key that is itself not confirmed yet; but it counts only from when that key is
 * confirmed by the party whose certificate it is about. So whoever merely gets hold of somebody's sign-in, and
 * introduces a key of their own, can confirm nothing.
 *
 * @param byPartyId  the party that must have confirmed it
 * @param at  milliseconds since 1970
 */
export async function certificateState(
  tables: Pick<Tables, 'certificates' | 'statements'>,
  certificate: KeptCertificate,
  byPartyId: string,
  at: number,
): Promise<CertificateState> {
  const { revocation } = certificate;
  if (revocation !== null && revocation.fromMs <= at) return 'revoked';
  const own = certificate.confirmations.filter((one) => one.byPartyId === byPartyId);
  for (const { statementId } of own) {
    if (await restsOnConfirmedKey(tables, statementId, certificate.partyId)) return 'confirmed';
  }
  return own.length === 0 ? 'introduced' : 'awaiting';
}

async function restsOnConfirmedKey(
  tables: Pick<Tables, 'certificates' | 'statements'>,
  statementId: string,
  partyId: string,
): Promise<boolean> {
  const statement = await tables.statements.get(statementId);
  const signer = statement && (await tables.certificates.get(statement.certificate));
  return signer?.confirmations.some(({ byPartyId }) => byPartyId === partyId) ?? false;
}
