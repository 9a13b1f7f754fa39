import type { KeptHead } from '../../src/ledger/index.ts';

/** The log is one for the whole archive, and a browser keeps what it remembers by the archive's address. */
const NAME = 'witnessleaf head';

/** The head that this browser last saw of this archive's log; null where it never met it. */
export function rememberedHead(): KeptHead | null {
  const text = localStorage.getItem(NAME);
  const end = text?.indexOf('\n') ?? -1;
  return text === null || end < 0 ? null : { verifierKey: text.slice(0, end), note: text.slice(end + 1) };
}

/** Remembers a head: the archive's key and its signed note. Neither is secret. */
export function rememberHead({ verifierKey, note }: KeptHead): void {
  localStorage.setItem(NAME, `${verifierKey}\n${note}`);
}
