import type { Access } from './access.ts';
import { bytesIn, textIn } from './row.ts';

/** Under which name and keys an archive signs: what anybody may know of it. */
export interface KeptIdentity {
  /** The log's name, for good. */
  readonly origin: string;
  /** Line of the ledger's `formatVerifierKey`. */
  readonly verifierKey: string;
  /** With which the archive seals PDF files, DER. */
  readonly sealCertificate: Uint8Array;
}

/** The archive's own identity; it is written once. */
export interface Identity {
  get(): Promise<KeptIdentity | null>;
  set(identity: KeptIdentity & { readonly at: number }): Promise<void>;
}

/** The table of the archive's identity. */
export function identityIn(access: Access): Identity {
  return {
    get: () =>
      access.read((database) => {
        const row = database.one('SELECT * FROM archive_identity');
        if (row === null) return null;
        return {
          origin: textIn(row, 'origin'),
          verifierKey: textIn(row, 'verifier_key'),
          sealCertificate: bytesIn(row, 'seal_certificate'),
        };
      }),
    set: (identity) =>
      access.write(
        (database) =>
          void database.run(
            `INSERT INTO archive_identity (one, origin, verifier_key, seal_certificate, at_ms)
             VALUES (1, :origin, :verifierKey, :sealCertificate, :at)`,
            { ...identity },
          ),
      ),
  };
}
