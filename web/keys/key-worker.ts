import { Refusal } from '../../src/model/index.ts';
import { daysAfter, makeCertificate, makeKeyFile, makeKeyPair, openKeyFile } from '../../src/sealing/index.ts';
import type { KeyAnswer, KeyWork, WorkedKey } from './key-work.ts';

/** As long as a key of the command line: enough for a book and its reprint. */
const DAYS = 3 * 365;

self.onmessage = ({ data }: MessageEvent<KeyWork>) => {
  void answerTo(data).then((answer) => self.postMessage(answer));
};

async function answerTo(work: KeyWork): Promise<KeyAnswer> {
  try {
    return { key: work.what === 'make' ? await made(work) : await opened(work.file, work.passphrase) };
  } catch (error) {
    if (error instanceof Refusal) return { refused: error.message };
    return { fault: error instanceof Error ? error.message : String(error) };
  }
}

/** The file is opened again at once: what is handed out is proved to open with this passphrase. */
async function made({ name, organisation, from, passphrase }: KeyWork & { readonly what: 'make' }): Promise<WorkedKey> {
  const keys = await makeKeyPair('ecdsa-p256');
  const person = { commonName: name, organisation };
  const certificate = await makeCertificate({ person, keys, from, until: daysAfter(from, DAYS) });
  const file = await makeKeyFile({ certificate, privateKey: keys.privateKey }, passphrase);
  return { ...(await opened(file, passphrase)), file };
}

async function opened(file: Uint8Array, passphrase: string): Promise<WorkedKey> {
  const { certificate, privateKey } = await openKeyFile(file, passphrase);
  return { certificate: new Uint8Array(certificate), privateKey, file: null };
}
