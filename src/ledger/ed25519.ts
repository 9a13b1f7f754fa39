import { Refusal } from '../model/index.ts';

/**
 * The Ed25519 signature of a text.
 *
 * @param privateKey  of WebCrypto, usable to sign; it need not be extractable
 * @returns 64 bytes
 * @throws {Refusal} unavailable: the browser offers no cryptography on this page
 * @source RFC 8032 5.1.6
 */
export async function signEd25519(privateKey: CryptoKey, text: string): Promise<Uint8Array> {
  return new Uint8Array(await subtle().sign('Ed25519', privateKey, new TextEncoder().encode(text)));
}

/** That a text was signed with a key. */
export interface SignatureClaim {
  /** 32 bytes. */
  readonly publicKey: Uint8Array;
  readonly text: string;
  /** 64 bytes. */
  readonly signature: Uint8Array;
}

/**
 * Whether a text was signed with the private half of this key. Keys and signatures that are none do not hold either.
 *
 * @throws {Refusal} as `signEd25519`
 * @source RFC 8032 5.1.7
 */
export async function verifyEd25519(claim: SignatureClaim): Promise<boolean> {
  const signature = Uint8Array.from(claim.signature);
  const engine = subtle();
  let key: CryptoKey;
  try {
    key = await engine.importKey('raw', Uint8Array.from(claim.publicKey), 'Ed25519', false, ['verify']);
  } catch (error) {
    if (error instanceof DOMException && error.name === 'DataError') return false;
    throw error;
  }
  return engine.verify('Ed25519', key, signature, new TextEncoder().encode(claim.text));
}

/**
 * The 32 bytes of a public key.
 *
 * @throws {Refusal} as `signEd25519`
 */
export async function rawPublicKey(publicKey: CryptoKey): Promise<Uint8Array> {
  return new Uint8Array(await subtle().exportKey('raw', publicKey));
}

function subtle(): SubtleCrypto {
  // eslint-disable-next-line no-restricted-globals -- WebCrypto: the one engine that browsers and Node share, and for Ed25519 the same bytes everywhere
  const engine = crypto.subtle as SubtleCrypto | undefined;
  if (engine === undefined) {
    throw new Refusal('unavailable', {
      what: 'the cryptography of the browser',
      reason: 'this page was opened neither over HTTPS nor from the same machine',
    });
  }
  return engine;
}
