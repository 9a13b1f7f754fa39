import { noteSigner, type NoteSigner } from '../../src/ledger/index.ts';

/** PKCS#8 in front of the 32 bytes of an Ed25519 key: RFC 8410 7. */
const BEFORE_SEED = Buffer.from('302e020100300506032b657004220420', 'hex');

/** The private key that an Ed25519 seed stands for. */
export async function seededKey(seed: Uint8Array): Promise<CryptoKey> {
  return crypto.subtle.importKey('pkcs8', Buffer.concat([BEFORE_SEED, seed]), 'Ed25519', false, ['sign']);
}

/** Somebody with a new key. */
export async function newSigner(name: string): Promise<NoteSigner> {
  return noteSigner(name, await crypto.subtle.generateKey('Ed25519', false, ['sign', 'verify']));
}
