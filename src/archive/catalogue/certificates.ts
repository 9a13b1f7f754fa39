import type { Access } from './access.ts';
import type { Database } from './database.ts';
import type { Row } from './row.ts';
import { bytesIn, numberIn, textIn } from './row.ts';

/** A certificate as a party introduced it, and what became of it. */
export interface KeptCertificate {
  /** SHA-256 of `der`. */
  readonly fingerprint: string;
  readonly partyId: string;
  readonly personId: string;
  readonly der: Uint8Array;
  readonly introducedMs: number;
  /** Each other party pins it for itself, by a statement; again, where the former rests on a key that nobody confirmed. */
  readonly confirmations: readonly { readonly byPartyId: string; readonly statementId: string }[];
  /** Signatures from `fromMs` on are refused; null while it is not revoked. */
  readonly revocation: { readonly fromMs: number; readonly statementId: string } | null;
}

/** Certificates of all parties. */
export interface Certificates {
  introduce(
    given: Pick<KeptCertificate, 'fingerprint' | 'partyId' | 'personId' | 'der'> & { readonly at: number },
  ): Promise<void>;
  confirm(given: {
    readonly fingerprint: string;
    readonly byPartyId: string;
    readonly statementId: string;
  }): Promise<void>;
  revoke(given: { readonly fingerprint: string; readonly statementId: string; readonly fromMs: number }): Promise<void>;
  get(fingerprint: string): Promise<KeptCertificate | null>;
  ofParty(partyId: string): Promise<readonly KeptCertificate[]>;
}

/** The tables of certificates, confirmations and revocations. */
export function certificatesIn(access: Access): Certificates {
  return {
    introduce: ({ fingerprint, partyId, personId, der, at }) =>
      access.write(
        (database) =>
          void database.run(
            `INSERT INTO certificate (fingerprint, party_id, person_id, der, introduced_ms)
             VALUES (:fingerprint, :partyId, :personId, :der, :at)`,
            { fingerprint, partyId, personId, der, at },
          ),
      ),
    confirm: ({ fingerprint, byPartyId, statementId }) =>
      access.write(
        (database) =>
          void database.run(
            `INSERT INTO certificate_confirmation (certificate, by_party_id, statement)
             VALUES (:fingerprint, :byPartyId, :statementId)`,
            { fingerprint, byPartyId, statementId },
          ),
      ),
    revoke: ({ fingerprint, statementId, fromMs }) =>
      access.write(
        (database) =>
          void database.run(
            `INSERT INTO certificate_revocation (certificate, statement, from_ms)
             VALUES (:fingerprint, :statementId, :fromMs)`,
            { fingerprint, statementId, fromMs },
          ),
      ),
    get: (fingerprint) =>
      access.read((database) => {
        const row = database.one('SELECT * FROM certificate WHERE fingerprint = :fingerprint', { fingerprint });
        return row && certificateOf(database, row);
      }),
    ofParty: (partyId) =>
      access.read((database) =>
        database
          .all('SELECT * FROM certificate WHERE party_id = :partyId ORDER BY rowid', { partyId })
          .map((row) => certificateOf(database, row)),
      ),
  };
}

function certificateOf(database: Database, row: Row): KeptCertificate {
  const fingerprint = textIn(row, 'fingerprint');
  const confirmations = database.all(
    'SELECT * FROM certificate_confirmation WHERE certificate = :fingerprint ORDER BY rowid',
    { fingerprint },
  );
  const revocation = database.one(
    'SELECT * FROM certificate_revocation WHERE certificate = :fingerprint ORDER BY from_ms LIMIT 1',
    { fingerprint },
  );
  return {
    fingerprint,
    partyId: textIn(row, 'party_id'),
    personId: textIn(row, 'person_id'),
    der: bytesIn(row, 'der'),
    introducedMs: numberIn(row, 'introduced_ms'),
    confirmations: confirmations.map((one) => ({
      byPartyId: textIn(one, 'by_party_id'),
      statementId: textIn(one, 'statement'),
    })),
    revocation: revocation && {
      fromMs: numberIn(revocation, 'from_ms'),
      statementId: textIn(revocation, 'statement'),
    },
  };
}
