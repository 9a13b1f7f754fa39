/** What is asked of the key worker: a new key in a file, or the key in one. */
export type KeyWork =
  | {
      readonly what: 'make';
      readonly name: string;
      readonly organisation: string;
      readonly from: string;
      readonly passphrase: string;
    }
  | { readonly what: 'open'; readonly file: Uint8Array<ArrayBuffer>; readonly passphrase: string };

/** A key that can sign here and cannot be taken out, with its certificate and, where it was just made, its file. */
export interface WorkedKey {
  readonly certificate: Uint8Array<ArrayBuffer>;
  readonly privateKey: CryptoKey;
  readonly file: Uint8Array<ArrayBuffer> | null;
}

/** What comes back from the worker: a key, or why there is none. */
export type KeyAnswer = { readonly key: WorkedKey } | { readonly refused: string } | { readonly fault: string };

/** Why a key file could not be made or opened, as its reader says it. */
export class KeyTrouble extends Error {
  override readonly name = 'KeyTrouble';
}

/**
 * Has a key made or opened beside the page: a passphrase is hashed 600,000 times, which would hold up everything else.
 * Nothing of it leaves this browser.
 *
 * @throws {KeyTrouble} another passphrase, no key file, a damaged one
 */
export async function workOnKey(work: KeyWork): Promise<WorkedKey> {
  const worker = new Worker(new URL('./key-worker.ts', import.meta.url), { type: 'module' });
  try {
    const answer = await new Promise<KeyAnswer>((resolve, reject) => {
      worker.onmessage = ({ data }: MessageEvent<KeyAnswer>) => resolve(data);
      worker.onerror = () => reject(new Error('The worker for keys could not be started.'));
      worker.postMessage(work);
    });
    if ('key' in answer) return answer.key;
    if ('refused' in answer) throw new KeyTrouble(answer.refused);
    throw new Error(answer.fault);
  } finally {
    worker.terminate();
  }
}
