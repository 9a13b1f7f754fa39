import type { ColourMap } from '../comparing/index.ts';
import { conversionStep } from '../comparing/index.ts';
import type { PageSignature, Tolerances } from '../model/index.ts';
import type { KeptFacts } from './kept-facts.ts';

/**
 * Two conversions that differ by less on every colour of the book count as one (CIELAB): a tenth of what an eye tells apart,
 * and a twenty-fourth of the smallest difference that is told of colours (`castDeltaE`, `retouchDeltaE`). Common practice,
 * no source.
 */
const SAME_CONVERSION_DELTA_E = 0.25;
/** Conversions of one dummy that are remembered, the newest first. */
const MOST_REMEMBERED = 8;

/**
 * What to take for a book's conversion: one that was learned before of the same dummy where it says the same of every
 * colour within `SAME_CONVERSION_DELTA_E`, else the fresh one. Two pages that changed move what is learned of a hundred and
 * sixty by a hair, and with it every comparison would have to be made anew.
 *
 * @param fresh  learned from the pairs of this check
 * @param pages  of the dummy, that it was learned from
 */
export async function settledConversion(
  kept: KeptFacts,
  { dummy, tolerances }: { readonly dummy: string; readonly tolerances: Tolerances },
  fresh: ColourMap,
  pages: readonly PageSignature[],
): Promise<ColourMap> {
  const terms = [dummy, tolerances.analysisPpi];
  const known = (await kept.read<readonly ColourMap[]>('conversions', terms)) ?? [];
  const same = known.find((one) => conversionStep(one, fresh, pages) <= SAME_CONVERSION_DELTA_E);
  if (same !== undefined) return same;
  await kept.write('conversions', terms, [fresh, ...known].slice(0, MOST_REMEMBERED));
  return fresh;
}
