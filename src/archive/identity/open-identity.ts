import { createPrivateKey, createPublicKey } from 'node:crypto';
import { formatVerifierKey, noteVerifier, type NoteSigner } from '../../ledger/index.ts';
import { Refusal } from '../../model/index.ts';
import type { SigningKey } from '../../sealing/index.ts';
import type { KeptIdentity, Tables } from '../catalogue/index.ts';
import { newId } from '../catalogue/new-id.ts';
import { keepArchiveKeys, newNoteKey, readArchiveKeys, type ArchiveKeys } from './key-file.ts';

/** As whom the archive signs: the heads of its log, and the files that it makes. */
export interface ArchiveIdentity {
  /** The log's name. */
  readonly origin: string;
  /** What others check its heads with: a line of the ledger's `formatVerifierKey`. */
  readonly verifierKey: string;
  readonly signer: NoteSigner;
  /** ECDSA P-256 and its certificate, which its own key signed. */
  readonly seal: SigningKey;
}

/** Years for which the sealing certificate is made: as long as anybody will ask. */
const SEAL_YEARS = 30;

/**
 * The identity of an archive, made where there is none: first the keys, then their record in the catalogue, so that a
 * kill between the two leaves keys that the next start takes.
 *
 * @param keysFolder  where the secrets lie
 * @param made  of a new archive: its log's name, and the time in milliseconds since 1970
 * @returns the identity, and what is to be recorded of it where it is new
 * @throws {Refusal} unavailable: the keys are gone, or they are another archive's
 * @throws {Refusal} malformed: a log's name with a space or a plus
 * @throws {Refusal} as `readArchiveKeys`
 */
export async function openIdentity(
  keysFolder: string,
  tables: Pick<Tables, 'identity'>,
  made: { readonly origin?: string | undefined; readonly at: number },
): Promise<{ readonly identity: ArchiveIdentity; readonly fresh: KeptIdentity | null }> {
  const kept = await tables.identity.get();
  let keys = await readArchiveKeys(keysFolder);
  if (keys === null) {
    if (kept !== null) refuse(`the keys of the log ${kept.origin} are not in its folder`);
    keys = await keepArchiveKeys(keysFolder, await newKeys(made));
  }
  const identity = await identityOf(keys);
  if (kept !== null && kept.verifierKey !== identity.verifierKey) {
    refuse(`the keys in its folder are not those of the log ${kept.origin}`);
  }
  const { origin, verifierKey } = identity;
  return { identity, fresh: kept === null ? { origin, verifierKey, sealCertificate: keys.sealCertificate } : null };
}

async function newKeys({
  origin,
  at,
}: {
  readonly origin?: string | undefined;
  readonly at: number;
}): Promise<ArchiveKeys> {
  const name = origin ?? `witnessleaf/${newId()}`;
  const noteKey = newNoteKey();
  // Refuses a name that no signature line can carry before anything is written.
  noteVerifier(name, publicBytes(noteKey));
  // Loaded only here: opening an archive that has its keys needs none of it.
  const { daysAfter, formatInstant, makeCertificate, makeKeyPair } = await import('../../sealing/index.ts');
  const keys = await makeKeyPair('ecdsa-p256');
  const from = formatInstant(new Date(at));
  const person = { commonName: [...`Archive ${name}`].slice(0, 64).join(''), organisation: 'Witness Leaf' };
  const sealCertificate = await makeCertificate({ person, keys, from, until: daysAfter(from, 365 * SEAL_YEARS) });
  const sealKey = new Uint8Array(await crypto.subtle.exportKey('pkcs8', keys.privateKey));
  return { origin: name, noteKey, sealKey, sealCertificate };
}

async function identityOf({ origin, noteKey, sealKey, sealCertificate }: ArchiveKeys): Promise<ArchiveIdentity> {
  const verifier = noteVerifier(origin, publicBytes(noteKey));
  const { subtle } = crypto;
  const ecdsa = { name: 'ECDSA', namedCurve: 'P-256' };
  return {
    origin,
    verifierKey: formatVerifierKey(verifier),
    signer: { verifier, privateKey: await subtle.importKey('pkcs8', noteKey, 'Ed25519', false, ['sign']) },
    seal: {
      certificate: sealCertificate,
      privateKey: await subtle.importKey('pkcs8', sealKey, ecdsa, false, ['sign']),
    },
  };
}

/** The 32 bytes of the public half. @source RFC 8410 4: the last 32 of the SubjectPublicKeyInfo */
function publicBytes(noteKey: Uint8Array): Uint8Array<ArrayBuffer> {
  const secret = createPrivateKey({ key: Buffer.from(noteKey), format: 'der', type: 'pkcs8' });
  const whole = createPublicKey(secret).export({ format: 'der', type: 'spki' });
  return new Uint8Array(whole.subarray(-32));
}

function refuse(reason: string): never {
  throw new Refusal('unavailable', { what: 'the archive', reason });
}
