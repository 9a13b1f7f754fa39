import { useSyncExternalStore } from 'react';
import { certificateFacts, fingerprintOf, sha256Hex, type SigningKey } from '../../src/sealing/index.ts';
import type { Me } from '../call/answers.ts';
import { useMe } from '../session/me.ts';

/** One's key, opened: it stands in the memory of this page alone and is gone with it. */
export interface OwnKey {
  readonly key: SigningKey;
  /** SHA-256 of the certificate. */
  readonly id: string;
  readonly fingerprint: string;
  readonly name: string;
  readonly organisation: string;
}

let held: { readonly own: OwnKey; readonly personId: string } | null = null;
const listeners = new Set<() => void>();

/** Holds an opened key until the page is closed, the key is put away, or somebody else signs in. */
export async function holdKey(key: SigningKey, me: Me): Promise<OwnKey> {
  const { commonName: name, organisation } = certificateFacts(key.certificate);
  const [id, fingerprint] = [await sha256Hex(key.certificate), await fingerprintOf(key.certificate)];
  const own = { key, id, fingerprint, name, organisation };
  keep({ own, personId: me.person.id });
  return own;
}

/** Puts the opened key away. */
export function putKeyAway(): void {
  keep(null);
}

/** The opened key of whoever is signed in; null where it is not open. */
export function useOwnKey(): OwnKey | null {
  const { person } = useMe();
  const now = useSyncExternalStore(listen, () => held);
  return now?.personId === person.id ? now.own : null;
}

function keep(next: typeof held): void {
  held = next;
  for (const listener of listeners) listener();
}

function listen(listener: () => void): () => void {
  listeners.add(listener);
  return () => void listeners.delete(listener);
}
