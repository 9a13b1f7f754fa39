import type { Sending } from './sending.ts';

const KEY = 'witnessleaf.sendings';

/** What was begun and is not there yet, as it outlives the page; the files themselves a browser does not keep. */
export function readKept(): readonly Sending[] {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? '[]') as readonly Omit<Sending, 'folding'>[];
    return kept.map((one) => ({ folding: {}, ...one, state: 'unattached', perSecond: 0, error: null }));
  } catch {
    // Nothing of value is lost: whatever was begun can be sent anew.
    return [];
  }
}

/** Keeps what the service has a place for already. */
export function keep(all: readonly Sending[]): void {
  const begun = all.filter(({ url, state }) => url !== null && state !== 'arrived' && state !== 'refused');
  try {
    localStorage.setItem(KEY, JSON.stringify(begun.map(({ error: _error, ...rest }) => rest)));
  } catch {
    // A browser that keeps nothing sends all the same; only after a reload it begins anew.
  }
}
