import { meetLog, parseBase64, type MetLog } from '../../src/ledger/index.ts';
import type { Head } from '../call/answers.ts';
import { read } from '../call/call.ts';
import { SplitTrouble } from './signing-trouble.ts';
import { rememberedHead, rememberHead } from './remembered-head.ts';

/** Asks the archive to prove that one of its logs begins with another. */
export async function proveHere(from: number, to: number): Promise<readonly Uint8Array[]> {
  const { proof } = await read<{ readonly proof: readonly string[] }>(`/api/log/consistency?from=${from}&to=${to}`);
  return proof.map((hash, at) => parseBase64(hash, `/proof/${at}`));
}

/**
 * Meets the archive's log: holds it against what this browser remembers of it, and remembers where it stands now.
 *
 * @throws {SplitTrouble} it is not the log that this browser has seen before
 * @throws {Refusal} unproven: the archive did not sign it
 */
export async function meetHere(): Promise<MetLog> {
  const kept = rememberedHead();
  const shown = await read<Head>('/api/log/head');
  const met = await meetLog({ kept, shown, prove: proveHere });
  if ('split' in met) throw new SplitTrouble(met.split.how, kept?.note ?? '', shown.note);
  rememberHead(met.keep);
  return met;
}
